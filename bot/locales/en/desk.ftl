### Answers at the desk.

# Pieces.

anyone = anyone
the-place = the place
a-round = a round
an-answer = an answer
gone-enclosure = an enclosure that is no longer kept
gone-pool = a pool that is no longer kept
gone-duty = a duty that is no longer done
list-and = { $first } and { $last }
list-or = { $first } or { $last }
yesterday-at = yesterday { $time }
tomorrow-at = tomorrow { $time }
just-now = just now
minutes-ago = { $count ->
    [one] 1 minute ago
   *[other] { $count } minutes ago
}
hours-ago = { $count ->
    [one] 1 hour ago
   *[other] { $count } hours ago
}
days-ago = { $count ->
    [one] 1 day ago
   *[other] { $count } days ago
}
kind-humidity = humidity
kind-temperature = temperature
kind-gravity = specific gravity
kind-salinity = salinity
kind-conductivity = conductivity
kind-ph = pH
kind-ammonia = ammonia
kind-nitrite = nitrite
kind-nitrate = nitrate
kind-chlorine = chlorine
kind-level = water level
span-minutes = { $count } min
span-hours = { $count } h
span-days = { $count ->
    [one] 1 day
   *[other] { $count } days
}

# Refusals that concern everything.

refuse-line = { $why } Nothing was saved.
refuse-question = { $why }
refuse-stranger = You do not share the work of this place. Its keeper can add you.
refuse-helper = A helper has no account: someone else logs for you, with by and your name.
refuse-keeper-only = Only a keeper sets things up: ask { $keepers }.
refuse-keeper-question = /{ $line } is a question that only a keeper asks: { $keepers } can.
refuse-long-line = A line has at most { $max } characters. Nothing was saved.
refuse-photo = A photo goes with a duty done or a sighting: send it with /did or /saw. Nothing was saved.
refuse-press = This answer no longer counts. Say /due for what is open now.
not-saved = Not saved: the journal cannot be written. Say it again in a while.
not-saved-locked = Not saved: the journal is busy. Say it again.
not-saved-full = Not saved: the disk is full. Tell whoever runs Wrackline.

# Logging.

did-change = { $target } changed
did-part = { $target } partly changed
did-condition = { $target } conditioned
did-topup = { $target } topped up
did-test = { $target } water tested
did-rinse = { $target } filter media rinsed
did-air = { $target } stone and pump checked
did-look = { $target } looked at
did-reading = { $target } read
did-leak = { $target } checked for leaks
did-scrub = { $target } scrubbed
did-hygrometer = { $target } hygrometer checked
did-own = { $target } done
did-fraction = , { $percent } % of the water
did-steps = , steps { $steps }
receipt = { $what }{ $part }, { $at }, by { $who }.
receipt-next = Next: { $next }.
receipt-still-due = Still due, since { $next }.
logged-several = Logged { $count } turns.
guarded = { $who } logged the { $duty } of { $target } { $ago } ({ $at }). Not logged again. If you did it as well, add “again”.
press-again = Log again: { $target }
press-take-back = Take back
press-why = Why
press-did = Did it
press-later = Later
press-cannot = Can't
press-not-needed = Not needed
press-take = I'll do it
press-close = It's over
refuse-too-old = That is more than { $years } years ago; say a later time. Nothing was saved.
refuse-too-far-back = A log of more than { $days } days ago is the keeper's alone: ask { $keepers }. Nothing was saved.
refuse-no-such-duty = { $target } has no { $duty } now.
refuse-no-duty-there = Nothing there has a { $duty } now.
refuse-nothing-there = Nothing there has duties at that moment.
refuse-more-than-pool = { $amount } is more than { $target } holds, which is { $all }. Nothing was saved.
refuse-part-unsaid = How much of { $target } was changed? Say part and a fraction, such as part 25%. Nothing was saved.

# Readings.

read-line = { $target }: { $reading }, { $at }.
read-line-by = { $target }: { $reading }, { $at }, by { $by }.
read-under = { $reading } is under the band, { $low } to { $high }.
read-over = { $reading } is over the band, { $low } to { $high }.
put-in-line = { $what }, { $at }.
put-in-fed = { $pool }: ammonia went in, of an amount that is not known
put-in-dosed = { $pool }: { $dose } dosed
put-in-tap = { $pool }, tap water: { $reading }
refuse-put-in-where = Put into which pool? Name one, such as north salt. Nothing was saved.
refuse-dosed-in-use = { $pool } is in use: ammonia is dosed into a pool that is closed to the crabs and cycling. Nothing was saved.
refuse-dosed = Dosed goes with ammonia over 0 alone, as in /read north salt dosed ammonia 2 mg/L, or with nothing where the amount is not known. Nothing was saved.
refuse-tap = Of tap water nitrate alone counts here, as in /read north salt tap nitrate 5 mg/L. Nothing was saved.
refuse-which-enclosure = { $reading } of which enclosure? Name one. Nothing was saved.
refuse-which-pool = { $reading } of which pool? Name one, such as north salt. Nothing was saved.

# Sightings.

saw-receipt = { $what }, { $target }, { $at }: noted.
saw-again = Open there since { $at }, seen by { $who }: this is that matter, seen again. { $next }
saw-again-next = Look again { $at }.
saw-another = One was seen there { $at } and is open still: this is kept as another one. Was it the same, take this back.
saw-private = Told to { $keepers } in private, and to nobody else.
refuse-not-open = No { $what } is open there. Say /week for what is. Nothing was saved.
over-receipt = { $what } over, says { $who }{ $count ->
    [one] {""}
   *[other] {" "}: { $count } matters closed
}.
refuse-saw-where = Seen where? Name one pool or one enclosure. Nothing was saved.
first-leak = First: switch off what is plugged in near the water, at the wall. Then stop the water, and lift the inner container out if there is one.
first-wet-substrate = First: find where the water comes from. Take out what is soaked, but leave the quiet zones alone.
first-wet-substrate-quiet = First: stop the water where it comes from, and take up what stands on top with a cloth. A moulting crab cannot move away from water: do not dig, lift or press there. Where water stands over it, see /emergency flood.
first-mould = Take it out with some substrate round it, and let air in for an hour. If it comes back, look at humidity and at leftover food.
first-condensation = Glass sweats when the room is cold, even inside the band. If it drips into the substrate, lift the lid's corner for an hour.
first-splashing = First: see whether the stone has come loose from under its weight. Then turn the valve down until the surface barely moves.
first-tipped-filter = First: switch the filter off at the wall. Set it upright, and see how much water is in the substrate.
first-escape = Close doors, look low and in dark corners, and search again at night. Then find the gap it left by.
first-trouble = Keep it warm, humid and undisturbed, and tell the keeper.

# What wants doing.

due-title = { $now ->
    [0] Nothing is due.
    [one] 1 turn is due.
   *[other] { $now } turns are due.
}{ $soon ->
    [0] {""}
   *[other] {" "}Within a day: { $soon }.
}
due-title-mine = { $now ->
    [0] Nothing of yours is due.
    [one] 1 turn of yours is due.
   *[other] { $now } turns of yours are due.
}{ $free ->
    [0] {""}
    [one] {" "}1 is free for anyone.
   *[other] {" "}{ $free } are free for anyone.
}{ $soon ->
    [0] {""}
   *[other] {" "}Within a day: { $soon }.
}
undelivered = { $count ->
    [one] 1 post
   *[other] { $count } posts
} could not be delivered this week: { $times }. Tell whoever runs Wrackline.
due-soon = Within a day:
did-bare-title = { $count ->
    [one] Your turn. Press it when it is done.
   *[other] Your { $count } turns. Press what is done.
}
did-bare-none = You have no turn now or within a day. To log something else, say what and where: did top-up north fresh.
turn-line = { $target }: { $duty } · { $who } · { $when }
turn-due-at = due { $at }
turn-due-never = not due again
turn-due-since = since { $at }
turn-overdue-since = late since { $at }
turn-hazard-since = at risk since { $at }
turn-held = {" "}· waits until { $until }: quiet zone, { $spot }
turn-later = {" "}· put off until { $until }

# Answers to calls.

later-when = { $turn }: when shall it come back?
later-receipt = { $turn } · comes back { $until }.
refuse-later = { $turn } cannot wait: it is a hazard from { $hazard }. Do it now, or say that you can't.
refuse-later-past = That time has passed. Choose a later one.
cannot-receipt-others = { $turn } stays with { $owner }. { $who } can't, and is not asked for it.
refuse-cannot-twice = You said already that you can't: { $turn }. Nothing was saved.
cannot-receipt = { $turn } · { $who } can't. Anyone may take it; credit goes to whoever does it.
not-needed-receipt = { $turn } · not needed: { $reason }. Next: { $next }.
refuse-no-reason = Why is it not needed? A word is enough. Nothing was saved.
refuse-not-needed = { $turn } would then run past its hazard limit, { $hazard }. Only a keeper can say so: ask { $keepers }.
refuse-closed = { $target }: this { $duty } is no longer open. Say /due for what is.
refuse-closed-by = { $who } answered for the { $duty } of { $target } { $ago } ({ $at }). Not logged again.
all-but-readings = Still open, since they need values: the readings of { $names }. Say read, the enclosure, and what it reads.
refuse-reading-text = “{ $text }” is no reading: say values such as 82% 26.5C. Nothing was saved.
refuse-nothing-open = None of these turns is open any more.
refuse-number = { $text } is not the number of a turn; they run from 1 to { $count }. Nothing was saved.
noted-receipt = { $who } has seen it.
going-receipt = { $who } goes to look.
looked-receipt = { $who } looked: still open.
looked-next = Look again { $at }.
closed-receipt = It is over, says { $who }.
wrong-receipt = Taken back as wrong by { $who }.
refuse-alarm-closed = { $who } closed this, { $at }.

# Taking back.

undone = Taken back: { $what }. The journal keeps both.
hush-undone = the hush
undone-cannot = that you can't do { $turn }
undone-taken = that you do { $turn }
undone-offered = the offer of { $turn }
undone-declined = that { $turn } is not for you
undone-away = an absence
undone-back = that you are back
undone-closed = that it is over
undone-looked = a look
undone-one = { $what } ({ $at })
refuse-undo-none = There is nothing of yours from the last { $hours } hours to take back.
refuse-undo-not-done = You said last that this was not done: { $what }; that is not taken back, so log it anew if it was done, or name another entry by its number.
refuse-undo-unknown = There is no entry { $seq } in the journal.
refuse-undo-twice = This was taken back already.
refuse-undo-kind = This entry set something up, and is not taken back: say the set-up line again as it should be.
refuse-undo-others = { $who } logged this: only { $who } or a keeper takes it back.
refuse-undo-old = This is older than { $hours } hours: a keeper can take it back.

# Why.

why-title = { $target }, { $duty }: { $mark }, { $when } · { $who }
why-never = Never done yet: counted from { $at }, when it came into use.
why-last = Last done { $at } by { $who }: { $duty }, entry { $entry }.
why-by-reading = by a reading
why-not-needed = Not needed, said by { $who } { $at }, entry { $entry }.
why-belongs = That counts as the { $round } round of { $date }.
why-belongs-part = With its parts it counts as done at the { $round } round of { $date }.
why-part = A part, { $percent } %, { $at } (entry { $entry }): moves what it counts from { $before } to { $after }.
why-rule = { $rule }: { $pace } ({ $basis }).
why-fraction = One part change is { $percent } % of the water (common practice).
pace-days = { $count ->
    [one] every day
   *[other] every { $count } days
}
pace-hours = every { $count } h
pace-weekdays = every { $days }
pace-cron = by the rule { $text }
basis-common-practice = common practice
basis-label = the conditioner's label; 48 h is common practice where it states none
basis-place = set by this place
because-still = The water stands still.
because-aerated = Aerated since { $at }.
because-filtered = Filtered, cycle proven, since { $at }.
because-air-waits = Air was added { $at }, so it is aerated; until the first change under it the stricter rule holds.
because-filter-waits = The filter's cycle has been proven since { $at }; until the first change under it the stricter rule holds.
because-filter-unproven = A filter was added { $at }; its cycle is not proven, so it does not count.
because-filter-lapsed = What the filter had proven counts no longer since { $at }.
because-air-stopped = The air stands still since { $at }.
because-filter-stopped = The filter stands still since { $at }.
because-cycling = The filter has been cycling since { $at }.
because-set-by-place = These numbers were set by this place { $at }.
why-due-days = { $date } + { $count ->
    [one] 1 day
   *[other] { $count } days
}, { $round } round: due { $due }.
why-due-first = { $date } + { $count ->
    [one] 1 day
   *[other] { $count } days
}, first round: due { $due }.
why-due-hours = From { $from } the limit is { $limit }; the last round before that, or at most 2 h past it: due { $due }.
why-due-limit = From { $from } no round comes before the limit: due { $due }.
why-due-calendar = By its calendar: due { $due }.
why-due-in-force = But this rule holds only since { $at }, when that time was over already: due at the next round after it, { $due }.
why-due-before = It was due already when this rule came into force, by the rule before it. { $sum }
why-due-gap = The clock skips { $time } that day, so it is held with the offset before the gap.
why-counted-as = { $moment }, the { $round } round that it counts as,
why-due-held = The quiet zone ({ $spot }) holds it back until its review: due { $due }.
why-due-never = Its calendar has no further occurrence.
grace-hours = { $span } after due
grace-next-round = the next round
why-overdue = Overdue from { $at } ({ $grace }).
why-hazard = Hazard from { $at } ({ $span } after { $from }).
why-hazard-never = Never a hazard.

# The week.

week-title = Week { $week }, { $from } to { $to }
week-totals = { $done } done in time, { $late } late, { $missed } missed{ $notneeded ->
    [0] {""}
   *[other] , { $notneeded } not needed
}.
week-minutes = From due to done: { $span } on average.
week-line = { $target }: { $duty } · { $done } in time{ $late ->
    [0] {""}
   *[other] , { $late } late
}{ $missed ->
    [0] {""}
   *[other] , { $missed } missed
}{ $notneeded ->
    [0] {""}
   *[other] , { $notneeded } not needed
}
week-column-duty = Duty
week-column-done = In time
week-column-late = Late
week-column-missed = Missed
week-column-notneeded = Not needed
week-column-parts = Parts
week-column-minutes = Due to done
week-column-mark = Mark
week-readings = { $target } { $kind }: { $inside } of { $all ->
    [one] 1 reading
   *[other] { $all } readings
} in the band{ $under ->
    [0] {""}
   *[other] , { $under } under
}{ $over ->
    [0] {""}
   *[other] , { $over } over
}.
week-readings-unbanded = { $target } { $kind }: { $all ->
    [one] 1 reading
   *[other] { $all } readings
}, with no band to keep.
week-no-readings = No reading was logged.
week-matter-open = Open: { $target }, { $what }, since { $at }.
week-matter-closed = Closed: { $target }, { $what }, seen { $at }.
week-matters-private = { $count ->
    [one] 1 matter
   *[other] { $count } matters
} of the keepers alone.
week-no-matters = No open matters.
week-people = Done by: { $names }.
week-nobody = Nobody logged anything.
week-coming = Coming: { $days }.
week-day = { $count } on { $day }
week-nothing-coming = Nothing falls due in the seven days after.
week-unknown = Not logged yet: { $names }.
week-unknown-more = { $count } more
week-full-hint = The full table: /week full.
