"""Small studies with the pencil arithmetic beside them, from the file's text to the figures.

Minutes in the comments are counted from Monday 06:00, when the first shift starts, unless a test
says otherwise; 360 minutes of the week have passed by then, and it has 10,080. As is assumed
where nothing is said (rule `keys.part`), a visit to an empty table takes 1 (walk) + 2 (load) = 3
min, one to a cut piece 1 + 1 (unload) + 2 = 4 min. "3-13" is a stretch from minute 3 to minute 13.
"""
