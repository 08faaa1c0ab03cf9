# The porch: its pages, labels and refusals.

# As browsers know it: it also decides how dates are written.
porch-language = en-GB
porch-title = Wrackline
porch-no-script = The porch needs the browser's scripting. Everything it does can also be said in the shell: wrackline say.

# Before the door.
porch-outside-heading = You are standing before the porch
porch-outside-text = The way in is a link made for you. Ask a keeper for one, or print it in the shell. It works once.
porch-link-heading = This link does not open the porch
porch-link-text = It was used already, it ran out, or it was cut short on the way. Ask a keeper for a new one, or print it in the shell.
porch-ended-heading = Your span is over
porch-link-line = wrackline link --as NAME

# The transcript.
porch-log-label = What was posted and said
porch-empty = Nothing here yet. Say /due to see what wants doing.
porch-only-you = for your eyes only
porch-bot = Wrackline
porch-refused = Not done
porch-caution = Take care
porch-settled = settled
porch-mark-calm = calm
porch-mark-due = due
porch-mark-overdue = overdue
porch-mark-hazard = hazard
porch-photo-alt = The photo that came with this entry
porch-photo-gone = The photo that came with this entry is no longer kept.
porch-table-label = Table; it can be moved sideways
porch-newest = To the newest
porch-ask-send = Answer
porch-ask-leave = Leave it

# The line at the foot.
porch-say-label = Say what you did, saw or read, or /help
porch-say-hint = /due
porch-say-send = Say
porch-complete-label = How the line may go on
porch-photo-add = Add a photo
porch-photo-leave = Leave the photo out
porch-photo-needs-line = Say what the photo shows: it goes with a /did or a /saw line.

# How the sending stands.
porch-sending = on its way
porch-unsent = Not sent yet. It is tried again by itself.
porch-failed = Not sent
porch-unsent-now = Try now
porch-unsent-drop = Drop it
porch-offline = No connection to the house. Trying again.
porch-ended = Your time on the porch has ended. Ask a keeper for a new link, or print it in the shell: wrackline link --as NAME

# Refusals of the door and of what came in.
porch-refused-host = This name does not belong to the porch. Use the address that the bot printed.
porch-refused-origin = This came from another page. Nothing was saved.
porch-refused-session = You are not signed in. Ask a keeper for a link, or print it in the shell: wrackline link --as NAME
porch-refused-method = This link has to be opened in a browser.
porch-refused-form = This could not be read. Nothing was saved.
porch-refused-size = This is too much at once: a photo may have 5 MiB, a line 16 KiB. Nothing was saved.
porch-refused-photo-none = There is no such photo here.
porch-refused-calendar = This calendar address leads nowhere: it was replaced or ended, or its time is over. Say /link calendar for a new one.
porch-refused-store = The house cannot reach its journal just now. The same can be sent again; nothing is counted twice.
