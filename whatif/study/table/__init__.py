"""Parts and orders from a table of a spreadsheet: read, told what is wrong, entered at once."""
