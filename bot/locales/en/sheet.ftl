# Handover: the sheet of whoever sits for a span of days, and what is posted when the span begins and ends.

sheet-title = Handover for { $who }, { $from } to { $to }: { $count ->
    [0] no turns yet
    [one] 1 turn, about { $minutes } min a day
   *[other] { $count } turns, about { $minutes } min a day
}
sheet-none = Turns pass to { $who } when those who have them say that they are away: /away from { $from } to { $to }.
sheet-made = { $place }. As things stand on { $at }.
sheet-address = With the steps and the quantities, to print: { $path } on the porch.
sheet-more = The steps of one duty with its quantities: /how DUTY SPOT. The cards: /emergency.
sheet-when = { $date }, { $round }
sheet-when-daily = Every day, { $round }
sheet-row = { $when }: { $turns }
sheet-turns-of = { $target }: { $what }
sheet-numbered = { $duty } { $number }
sheet-later = { $count ->
    [one] 1 of these, on { $from }, is
   *[other] { $count } of these, from { $from } on, are
} not shared out yet, and told as it would be today; later /turns says whose.
sheet-water = All of these changes together take { $amounts }.
sheet-call = Call in this order: { $names }.
sheet-veterinarian = A veterinarian who treats exotic animals:
sheet-call-line = { $name } { $line }
sheet-work = { $number } · { $duty }: { $targets }
sheet-own = { $duty } is a duty of this place’s own, { $schedule }: ask { $keepers } how it is done.

# What stands around the turns.
sheet-stands = { $number } · { $name }{ $crabs ->
    [0] {""}
    [one] , 1 crab
   *[other] , { $crabs } crabs
}: { $pools }
sheet-nested = nested
sheet-stays = stays in place
sheet-salt = Salt: { $name }.
sheet-bands = Humidity { $low } to { $high } %, { $cold } to { $warm }; a short spike is no alarm. Both pools full to the line and clear, crabs buried for weeks while they moult.
sheet-pools = Salt pools { $target } g/kg.
sheet-read = { $target }: { $shown } on { $at }
sheet-limits = Humidity under { $low } % for { $lowhours } hours, or over { $high } % for { $highhours } hours.
sheet-see = Say it at once when you see one of these, such as /saw leak { $spot }: { $what }.
sheet-open = Open: { $target }, { $what }, since { $at }
sheet-late = Late: { $turn }, { $when }
sheet-care-glass = Glass breaks: no weight on it, no sudden heat or cold, no filled tank is moved.
sheet-care-chlorine = Tap water holds chlorine or chloramine, which harm gills: conditioner first, then the pools. Conditioner and chlorine products are never mixed.

# Headings of the page.
sheet-head-turns = Days and rounds
sheet-head-call = Whom to call, in this order
sheet-head-cards = When something goes wrong
sheet-head-cautions = Take care
sheet-head-quiet = Quiet zones
sheet-head-stands = Where things stand, in walking order
sheet-head-supplies = Water and what it is made with
sheet-head-normal = Normal
sheet-head-not-normal = Not normal
sheet-head-works = How it is done
sheet-head-over = What was done, seen and used up
sheet-column-when = When
sheet-column-turns = Turns, with their numbers under “How it is done”
sheet-column-prepare = Prepare

# Refusals.
sheet-not-yours = A handover sheet is for keepers and for the sitter whose span it is: ask { $keepers }.
sheet-nobody = Nobody sits from today on; say whose sheet and which days, as in /sheet Maren from 2026-07-03 to 2026-07-17.
sheet-which = Several sit: { $names }; say whose sheet, as in /sheet Maren.
sheet-no-span = { $who } has no span of days; say them, as in /sheet { $who } from 2026-07-03 to 2026-07-17.
sheet-backwards = A span cannot end before it starts: { $from } to { $to }.
sheet-too-long = A sheet is for { $most } days at most; make one for each part.
sheet-over = { $to } is over already; /week last says what was done.
sheet-ended = The span of { $who } ended on { $ended }; /carer set { $who } from DATE to DATE brings them back.
sheet-too-far = A sheet looks { $most } days ahead at most, and { $to } is later; ask nearer to it.

sheet-gone = Nobody of that number shares the work now; /sheet says where a sheet is.

# What is posted.
handover-begins = The span of { $who } begins: { $from } to { $to }
handover-today = { $count ->
    [0] Nothing falls due today.
   *[other] Today:
}
handover-sheet = All of it, with the steps, the quantities and whom to call: /sheet { $who }
handover-ended = The span of { $who } has ended: { $from } to { $to }
handover-did = { $who } did { $count ->
    [0] no turns
    [one] 1 turn
   *[other] { $count } turns
}, about { $minutes } min in all.
handover-duty = { $duty }: { $count }, about { $minutes } min
handover-late = Late: { $what }.
handover-missed = Not done: { $what }.
handover-open = Still late: { $what }.
handover-all-done = Nothing was late or left undone.
handover-times = { $turn } ({ $count })
handover-seen = Seen: { $what }, { $target }, { $at }, { $closed ->
    [yes] closed
   *[no] still open
}.
handover-unseen = Nothing was seen.
handover-out = Out of the band: { $target }, { $kind }: { $out } of { $all } readings.
handover-in = All readings lay in their bands.
handover-unread = No readings were logged.
handover-used = Used up by the changes, as /mix reckons it with its margin: { $what }.
handover-fresh = { $litres } of fresh water
handover-salt = { $litres } of salt water
handover-grams = { $grams } of salt
handover-dose = conditioner { $dose }
handover-dose-unknown = conditioner by its label
handover-unused = No water was changed.
