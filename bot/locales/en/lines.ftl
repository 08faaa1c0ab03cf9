# What is said about lines themselves: refusals, quantities, help and completion.
# A refusal is one sentence: what was wrong, what would be right.

# The line as a whole.
no-line-none = Say a line, such as /due or /did change north salt.
no-line-unknown = There is no line “{ $text }”; /help lists them.
no-line-nearest = There is no line “{ $text }”. Nearest: { $names }.
no-line-danger = “{ $text }” alone is no line; say { $card } for what to do first.
no-line-seen-danger = “{ $text }” alone is no line; say { $card } for what to do first, and { $saw } so that the others know and it is followed up.
no-line-seen = “{ $text }” alone is no line; say { $saw } so that the others know and it is followed up.
no-line-needs-sub = “{ $text }” is nothing that /{ $line } does; it does { $names }.
no-line-missing = { $what } is missing; it goes { $usage }
no-line-leftover = “{ $text }” means nothing here; it goes { $usage }
no-line-long = That is too long to be one line; say at most { $most } words, and the rest in a note.
no-line-twice = “{ $word }” stands twice; once is enough.
no-line-empty = Nothing stands behind “{ $word }”; say what it is.
no-line-needs-some = What is to be set? It goes { $usage }
no-line-needs-one = When is it to be done? It goes { $usage }
no-line-needs-only-one = Only one of these can hold at a time; it goes { $usage }
no-help-unknown = There is no line “{ $text }”; there are { $names }.
no-undo-no-number = “{ $text }” is no number of an entry; say /undo for your last one, or /undo 12.

# What is missing.
need-span = How long nobody is there, or until when,
need-duty = The duty
need-spot = The pool or enclosure
need-enclosure = The enclosure
need-vessel = The name of the vessel
need-readings = The reading with its unit
need-sighting = What was seen
need-name = The name
need-volume = The volume with its unit
need-water = The water, fresh or salt,
need-gear = The gear, air or filter,
need-proven = The word “proven”
need-rule = The rule
need-carer = The carer's name
need-round = The round's name
need-time = The time of day
need-start = What it is now, behind “from”,
need-target = What is wanted, behind “to”,
need-turn = The turn, as in change north salt sunday,
need-whom = The carer behind “to”
need-to = The day behind “to”

# Where.
no-spot-none-said = Which pool or enclosure? Say its name, such as “north salt”, or “all”.
no-spot-no-enclosures = There is no enclosure yet; a keeper adds one with /enclosure add NAME VOLUME.
no-spot-unknown = There is no “{ $text }”; known here: { $names }.
no-spot-nearest = There is no “{ $text }”. Nearest: { $names }.
no-spot-ambiguous = “{ $text }” may be { $names }; say which.
no-spot-no-pool = { $name } has no { $water } pool.
no-spot-no-such-water = There is no { $water } pool here.
no-spot-one-enclosure = “{ $text }” is not one enclosure; name one alone.
no-spot-one-pool = “{ $text }” is not one pool; name one alone, such as “north salt”.
no-rehearse-without-pools = “{ $text }” has no pool to rehearse; name a pool, or none for the whole place.
no-rehearse-proven = Only a filter has a cycle to prove; say with filter proven.
no-rehearse-no-numbers = Which numbers would the rule have had? Say them, such as every 3 days.
no-rehearse-no-rule = Whose interval is it? Name a pool for that of its changes, or a rule, such as rule top-up every 2 days.
no-spot-without-pools = “{ $text }” has no pool to fit it to.

# Duties and sightings.
no-duty-unknown = There is no duty “{ $text }”; there are { $names }.
no-duty-nearest = There is no duty “{ $text }”. Nearest: { $names }.
no-sighting-unknown = “{ $text }” is nothing that can be logged as seen; there are { $names }.
no-sighting-nearest = “{ $text }” is nothing that can be logged as seen. Nearest: { $names }.
no-part-twice = A part is told by a fraction or by steps, not by both.
no-step-none-said = Which steps were done? Say numbers from 1 to { $most }.
no-step-none-such = There is no step “{ $text }”; they are numbered 1 to { $most }.

# When.
no-time-none-such = There is no time “{ $text }”; hours run to 23, minutes to 59.
no-time-unknown = “{ $text }” is no time; say it as 18:40, yesterday 21:00, 2h ago or 2026-03-08 18:40.
no-time-no-clock = “{ $text }” is no time of day; say it as 08:00 or 7pm.
no-time-needs-clock = “{ $text }” needs a time of day, as in “{ $text } 21:00”.
no-time-no-span = “{ $text }” is no span of the day; say it as 22:00 to 07:00, or none.
no-time-to-come-today = { $text } is still to come; for the day before say yesterday { $text }.
no-time-to-come = { $text } is still to come; say when it was, or leave the time out for now.
no-date-unreadable = “{ $text }” is no date; say it as 2026-04-02.
no-weekday-unknown = “{ $text }” is no day of the week; say them as Mon Thu.
no-day-unknown = “{ $text }” is no day to come; say it as sunday, tomorrow evening or 3 July.
no-day-nearest = “{ $text }” is no day to come. Nearest: { $near }.
no-day-with-time = “{ $text }” is no round; say the day with its round, or from and to with times.
no-day-without-round = No round is held on “{ $text }”; say the round, as sunday evening, or the whole day.
no-hush-later = A hush begins at once, and “{ $text }” does not; say until when, as until sunday.
no-span-nought = “{ $text }” is no time at all; say how long, as 3 days.
no-span-no-whole-hours = “{ $text }” is no whole number of hours; say hours or days.
no-cron-unreadable = “{ $text }” cannot be read as minute, hour, day, month, weekday; say it as "30 21 * * *".

# People, rounds, duties of the place's own.
no-carer-unknown = There is no carer “{ $text }”; known here: { $names }.
no-carer-nearest = There is no carer “{ $text }”. Nearest: { $names }.
no-carer-ambiguous = “{ $text }” may be { $names }; say which.
no-carer-odd-name = “{ $word }” cannot be part of the name “{ $name }”. Say carer add, the name alone and perhaps a role; a name with such a word goes in quotation marks.
no-carer-own-stand-in = { $name } cannot stand in for { $name }; name someone else, or none.
no-language-words = There are no answers in “{ $text }”: English is the one language so far, said as language en.
no-span-end = A span needs its last day: say from DATE to DATE.
no-span-and-always = From and to make a span, always ends it; say one of the two.
no-round-none = No round has a name yet; a keeper adds one with /rounds add NAME 08:00.
no-round-unknown = There is no round “{ $text }”; known here: { $names }.
no-round-nearest = There is no round “{ $text }”. Nearest: { $names }.
no-round-ambiguous = “{ $text }” may be { $names }; say which.
no-own-none = This place has no duty of its own yet; a keeper adds one with /duty add.
no-own-unknown = There is no duty of this place's own “{ $text }”; known here: { $names }.
no-own-nearest = There is no duty of this place's own “{ $text }”. Nearest: { $names }.
no-own-ambiguous = “{ $text }” may be { $names }; say which.
no-own-of-catalogue = “{ $name }” is a duty of the catalogue already; its numbers are set with /duty set.
no-own-time-needs-days = A time of day goes with days of the week, as in on Mon Thu time 21:00.
no-rule-no-weekdays = The catalogue counts days or hours, not days of the week; say it as every 3 days.

# The chat platform.
no-member-unknown = “{ $text }” is no member of the group's chat; choose one there, with @.

# Prepared water.
no-batch-none = There is no prepared water yet; say /batch add VESSEL 20 L salt 35.
no-batch-unknown = There is no vessel “{ $text }”; known here: { $names }.
no-batch-nearest = There is no vessel “{ $text }”. Nearest: { $names }.
no-batch-ambiguous = “{ $text }” may be { $names }; say which.
no-batch-date-past = { $text } is past; the last day of its use lies ahead.
no-batch-date-far = { $text } is too far off for prepared water; the last day of its use lies { $weeks } weeks ahead at most.
no-trail-both = It is followed for its salt or for its chlorine, one at a time.

# Names for new things.
no-name-length = A name has 1 to { $most } letters.
no-name-sign = A name cannot hold “{ $sign }”, which lines read as something else.
no-name-unseen = A name needs at least one letter or figure, and none that is invisible.
no-name-reserved = “{ $name }” has a meaning in lines already; a name needs one word more, or another.
no-name-read = “{ $name }” is { $what }; a carer needs another name, or one with a word more.
name-of-enclosure = an enclosure or a room here
name-of-round = a round here
name-of-duty = something that is done or seen here
name-of-vessel = a vessel here
name-of-lines = a word that lines read
no-name-holds-room = A name that holds “room” goes in quotation marks, and the room behind the volume, as in "Living room tank" 400 L room Hall.
no-name-taken = { $name } is there already; choose another name.

# Words, numbers, settings.
no-choice-unknown = “{ $text }” is not one of { $names }.
no-choice-nearest = “{ $text }” is none of the words here. Nearest: { $names }.
no-number-unreadable = “{ $text }” is no whole number from 0 to { $most }.
no-gravity-unknown = “{ $text }” is no pair of temperatures that an instrument compares; there are { $names }.
no-zone-unknown = There is no time zone “{ $text }”; say it as Europe/London.
no-zone-nearest = There is no time zone “{ $text }”. Nearest: { $names }.
no-crabs-upside-down = The smallest crab cannot be longer than the largest; check the two lengths.
no-quiet-without-date = A quiet zone needs the day of its review, as in quiet "left back" until 2026-04-02.
no-quiet-without-spot = A review date needs its quiet zone, as in quiet "left back" until 2026-04-02.
no-quiet-date-past = { $text } is past or today; the review of a quiet zone lies ahead.
no-turns-day = Turns are shared out { $days } days ahead, today included; say one of those days.
no-pool-both-ways = A pool is stationary or removable, not both.
no-link-alarm = “{ $text }” is no time before a turn: say alarm 30 min, of at most 24 hours, or alarm none.
no-link-off-alarm = An address that is off has no alarm: say one of the two.
no-gear-air-proven = Air has no cycle to prove; only a filter has.

# Quantities.
quantity-range-reading = { $value } is not { $what }; it runs from { $low } to { $high }.
quantity-range-amount = { $value } is not { $what }; it is more than { $low } and at most { $high }.
quantity-wrong-unit = “{ $text }” is not { $what }; say { $unit }.
quantity-no-unit = “{ $text }” needs its unit; say { $unit }.
quantity-none = A number is missing there; say it in figures, with its unit.
quantity-no-number = “{ $text }” is no number that can be read; say it in figures.
quantity-no-convention = A specific gravity of { $value } needs its two temperatures, as in sg { $value } 25/25; a keeper sets them for all with /place set sg 25/25.
quantity-not-finite = That number has too many figures to be counted with.
quantity-negative = “{ $text }” is not { $what }; it cannot be below zero.
quantity-unknown = “{ $text }” cannot be read as a quantity; say a number and its unit.

# What a quantity is.
what-volume = a volume of water
what-length = a length
what-mass = a mass
what-fraction = a part of a whole
what-any = a reading
what-duration = a span of time
what-humidity = a relative humidity
what-temperature = a temperature of air or pool water
what-gravity = a specific gravity of pool water
what-salinity = a salinity of pool water
what-conductivity = a conductivity of pool water
what-ph = a pH
what-ammonia = an ammonia value
what-nitrite = a nitrite value
what-nitrate = a nitrate value
what-chlorine = a chlorine value
what-level = a depth of water

# The units it can be said in, those of the place first.
units-of-volume = { $units ->
    [us] gal or L
    [imperial] imp gal or L
   *[metric] L or mL
}
units-of-length = { $units ->
    [us] in or cm
   *[metric] cm or mm
}
units-of-mass = { $units ->
    [us] oz or g
   *[metric] g or kg
}
units-of-fraction = 50 %, half or 1/3
units-of-any = %, °C, ppt, mS/cm, mg/L or cm
units-of-duration = h or days
units-of-humidity = %
units-of-temperature = { $units ->
    [us] °F or °C
   *[metric] °C or °F
}
units-of-gravity = sg, as in sg 1.0245
units-of-salinity = ppt or g/kg
units-of-conductivity = mS/cm
units-of-ph = pH, as in pH 8.1
units-of-ammonia = mg/L or ppm
units-of-nitrite = mg/L or ppm
units-of-nitrate = mg/L or ppm
units-of-chlorine = mg/L or ppm
units-of-level = { $units ->
    [us] in or cm
   *[metric] cm or in
}

# Lines, one sentence each.
help-due = What wants doing now and in the next day, everyone's or mine.
help-did = Log a duty done; alone, it shows your own turns to press.
help-read = Log readings, several at once.
help-saw = Log something seen that stays open until it is closed.
help-undo = Take back your own last entry, or one by its number.
help-why = How a mark came about, with the arithmetic.
help-how = The steps of a duty, with today's quantities.
help-mix = What goes into the buckets: for the next changes, for pools, or for an amount.
help-dilute = What part changes do to a concentration, and how many it takes.
help-week = The week summed up.
help-turns = Whose turn, and when; mine, somebody's or everyone's.
help-away = Say when you are away (until Sunday, for 3 days) or there again; alone, it shows who is.
help-offer = Offer a turn of yours to somebody, say no to an offer, or that you can't do one that is called.
help-take = Take a turn that is open, offered to you, or somebody else's.
help-nod = Nod at a helper's work that waits for it, or say that it was not done; alone, it shows what waits.
help-fit = Pools against their enclosure: humidity, glass, depth, way out, filter.
help-plumb = What is laid to a pool: airline, pump, filter, siphon and buckets.
help-rehearse = The place's own past under another way of keeping.
help-sheet = A sitter's handover sheet: turns, steps, quantities, whom to call.
help-alone = How long nobody may be there: what fails first, and the fewest visits.
help-batch = Prepared water: made, measured, conditioned, used up.
help-batch-add = Log prepared water in a vessel.
help-batch-set = Say what was read in a vessel, that it was conditioned, or its last day.
help-batch-list = List what is left, what to use first, and what is not ready.
help-batch-retire = Say that what was left in a vessel was poured away.
help-trail = Where the water of a vessel went, what is in each pool now, and the correction.
help-emergency = What to do first when something goes wrong; alone, it lists the cards.
help-place = The place itself: zone, quiet hours, units.
help-place-set = Change the place's name, zone, quiet hours, units or gravity convention.
help-place-link = Link the place to a server of the group's chat; elsewhere, get a code for it.
help-place-list = Show how the place is set.
help-enclosure = The enclosures.
help-enclosure-add = Set up an enclosure.
help-enclosure-set = Change an enclosure.
help-enclosure-list = List the enclosures.
help-enclosure-retire = End an enclosure's care; the journal keeps it.
help-pool = The pools.
help-pool-add = Set up a pool in an enclosure.
help-pool-set = Change a pool.
help-pool-list = List the pools.
help-pool-retire = End a pool's care; the journal keeps it.
help-gear = Air stones and filters, each from its date.
help-gear-add = Fit an air stone or a filter.
help-gear-set = Say how gear is made, or that a filter's cycle is proven.
help-gear-stop = Say that gear stands still.
help-gear-start = Say that gear runs again.
help-gear-list = List what is fitted.
help-gear-retire = Take gear off.
help-duty = Duties of the place's own, and the catalogue's numbers.
help-duty-add = Add a duty of the place's own.
help-duty-set = Set the place's own numbers for a rule of the catalogue, or that it waits for a nod.
help-duty-list = List the duties and their numbers.
help-duty-retire = End a duty of the place's own; the journal keeps it.
help-carer = Those who share the work.
help-carer-add = Add a person.
help-carer-set = Change what is set of a person: for yourself your own, for others a keeper's.
help-carer-list = List those who share the work, or everything of one.
help-carer-retire = End a person's share of the work; the journal keeps it.
help-rounds = The times of day at which care is done.
help-rounds-add = Add a round.
help-rounds-set = Move a round to another time of day.
help-rounds-list = List the rounds.
help-rounds-hush = Call nobody to rounds and late turns for a while; dangers are told all the same.
help-rounds-retire = End a round.
help-link = The address of your own calendar.
help-link-calendar = Get an address of your turns for your calendar; it replaces the earlier one and keeps its alarm.
help-link-list = Show whether your calendar has an address.
help-supplies = What the place mixes with.
help-supplies-set = Set the conditioner's label, the salt, the salinity wanted, the bucket, the tap water.
help-supplies-list = Show what the place mixes with.
help-help = What can be said.

# Arguments, a few words each.
arg-whose = mine or everyone's
arg-duty = the duty
arg-spot = the pool, enclosure, room or all
arg-at = when it was; now, if left out
arg-by = who did it; you, if left out
arg-together = who did it with them
arg-part = how much of it, as in 50%
arg-steps = which of its steps
arg-amount = how much water
arg-batch = the vessel that the water came from
arg-again = log it although it was logged a short while ago
arg-closed = what was seen is over: the matter is closed
arg-note = a note, to the end of the line
arg-vessel = what the vessel is called
arg-conditioned = whether it was conditioned
arg-use-by = the last day on which it is used
arg-unconditioned = it had not been conditioned
arg-readings = readings with their units
arg-dosed = ammonia that went in: what was dosed or fed
arg-tap = read in the water that is put in, not in the pool
arg-sighting = what was seen
arg-entry = the entry's number
arg-last = the week before
arg-full = the full table
arg-carer = the person
arg-days = today, tomorrow, sunday, week, next week or two weeks
arg-whom = to whom
arg-no = not for you, or not done
arg-cannot = a turn that is called and that you can't do
arg-to-day = the last day, or when you are there again
arg-to = up to and with this day; now, if left out
arg-rounds = a day, single rounds or a span, as friday evening, this weekend, for 3 days
arg-back = when somebody is there again
arg-list = who is away when
arg-sure = final at once, without being shown first
arg-turn = the turn: a duty, where, and perhaps the day and round
arg-line = the line
arg-card = what has happened
arg-name = what it is called
arg-zone = its time zone, as Europe/London
arg-quiet-hours = hours in which only danger is posted
arg-units = metric, us or imperial
arg-sg = the temperatures that the gravity instrument compares
arg-volume = the volume with its unit
arg-room = the room of the building
arg-order = its point of the walking order
arg-crabs = how many crabs live there
arg-smallest = the smallest crab's length
arg-largest = the largest crab's length
arg-quarantine = kept apart, last in the walking order
arg-sensor = whether a sensor reads it
arg-quiet = where a crab moults, or none
arg-until = until when: a day, or a time where one is asked for
arg-off = ends it
arg-from = from when it counts; now, if left out
arg-enclosure = the enclosure
arg-water = fresh or salt
arg-nested = one container in another
arg-stationary = it stays in its place
arg-removable = it lifts out whole
arg-life = where it is in its life
arg-gear = air or filter
arg-proven = the filter's cycle is proven
arg-with-gear = gear that it would have had
arg-without-gear = gear that it would not have had
arg-winter = the room's air in winter, as 21C 40%
arg-summer = the room's air in summer, as 25C 55%
arg-size = inside length, width and height
arg-substrate = how deep the substrate lies, or none
arg-glass = thickness of the panes, as 6 mm or acrylic 5 mm
arg-lid = closed, gaps, open, or exchanges an hour, as 0.5/h
arg-heated = the temperature it is kept at
arg-shape = the container's inside, as box 30x20x12 cm, or a table, filled 4 cm 1 L, 8 cm 2.2 L
arg-depth = how deep the water stands
arg-gravel = how deep gravel lies, as 3 cm, 3 cm sand, or none
arg-stones = the room that stones, shells and a ramp take
arg-way-out = the way out, as ramp 8x12 cm, steps 2x8 cm, or none
arg-rated = the pools a filter is rated for, as 5-10 gal
arg-fill-line = the filter's minimum fill line above the pool's floor
arg-flow = what it pumps or blows, as 200 L/h
arg-displaces = the room that it takes under water
arg-pressure = what the air pump is rated for, as 12 kPa
arg-pump = where the pump stands, as 30 cm below the water line
arg-check-valve = whether a check valve is in the airline
arg-stone = how deep the air stone lies
arg-across = airline from above the stone to the rim, level
arg-rim = the rim's height above the water
arg-valve = how far the valve hangs below the rim
arg-run = airline from the valve to the pump, level
arg-weighted = whether the stone lies under something heavy
arg-span = how long nobody is there, as 9 days
arg-leave = when the last one leaves; now, if left out
arg-head = how far the bucket's water lies below the pool's
arg-tube = the siphon's length
arg-bore = the siphon's width inside
arg-bucket = what the bucket holds
arg-every = after so many days or hours
arg-on = on days of the week
arg-cron = by minute, hour, day, month, weekday
arg-time = the time of day
arg-grace = how long after due it is late
arg-hazard = how long after the last one it is a hazard
arg-digs = it digs, lifts or scrubs
arg-rule = the rule of the catalogue
arg-role = keeper, regular, sitter or helper
arg-stand-in = who is asked instead, or none
arg-starts = the first day of a sitter's span; today, if left out
arg-ends = the last day of a sitter's span
arg-always = there is no span any more
arg-language = the language of answers: en alone so far
arg-free = when they are there, as Mon Wed evening, Sat Sun, or any
arg-skill = what they can do, as siphon and salt, all or none
arg-lifts = what they lift, as 10 kg, or anything
arg-share = the share of the work that they want, 1 being an even one, or none
arg-minutes = the most minutes a day, or any
arg-private = whether they are reminded alone
arg-nod = whether it waits for an adult's nod when a helper did it
arg-round = the round
arg-channel = the channel for calls and alarms
arg-code = the code that a keeper was given
arg-salinity = the salinity: 35, sg 1.025 25/25 or mS/cm
arg-temperature = the water's temperature, as 25C
arg-finished = that much in the end, not to begin with
arg-start = what it is now
arg-target = what is wanted
arg-with = the salinity of what goes in
arg-substance = ammonia, nitrite or nitrate
arg-source = what the tap water holds of it
arg-change = the part of the water that each change takes
arg-adds = what comes in a day, as 2 mg/L a day
arg-removes = the part that is taken up in a day
arg-conditioner = the conditioner's name, or none
arg-dose = the label's dose, as 5 mL
arg-per = for so much water, by the label
arg-chloramine = what the label says of chloramine
arg-ammonia = it binds ammonia and disturbs ammonia tests
arg-hold = how long it holds, by its label
arg-salt = the salt's name, or none
arg-factor = what a gram of the salt counts, as 0.97
arg-measured = the salinity that was measured after mixing
arg-after = in so much tap water
arg-mass = with so much of the salt
arg-margin = how much more than the pools take
arg-mains = what the tap water is disinfected with
arg-alarm = how long before each turn it rings, as 30 min, or none
arg-photo = a photo of it
arg-member = the member of the group's chat

# What a completion stands for.
hint-pool = a pool
hint-enclosure = an enclosure
hint-room = a room
hint-all = everywhere
