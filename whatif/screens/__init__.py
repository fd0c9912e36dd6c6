"""The screen: widgets that draw what the session and the answers say, and hold no arithmetic."""
