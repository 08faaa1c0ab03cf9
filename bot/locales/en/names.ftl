# The names of things, by the codes that never change.

# Duties.
duty-change = change
duty-part = part change
duty-condition = conditioning
duty-topup = top-up
duty-test = water test
duty-rinse = media rinse
duty-air = stone and pump check
duty-look = morning look
duty-reading = reading
duty-leak = leak check
duty-scrub = scrub
duty-hygrometer = hygrometer check

# Rows of the catalogue: a duty under one kind of keeping.
rule-still = change of a still pool
rule-aerated = change of an aerated pool without a filter
rule-part-change = part change of a filtered pool
rule-condition = conditioning of a pool without a filter
rule-top-up = top-up
rule-test-cycling = water test while a filter cycles
rule-test = water test of a filtered pool in use
rule-rinse = media rinse
rule-air-check = stone and pump check
rule-look = morning look
rule-reading = reading of an enclosure without a sensor
rule-leak-check = leak check of nested containers
rule-scrub = scrub of grip stones and ramps
rule-hygrometer = hygrometer check
rule-own = a duty of this place's own

# The two waters.
water-fresh = fresh
water-salt = salt

# Where a pool is in its life.
life-planned = planned
life-leak-test = leak test
life-cycling = cycling
life-in-use = in use
life-out-of-use = out of use

# What may be fitted to a pool.
gear-air = air
gear-filter = filter

# What a carer may do.
role-keeper = keeper
role-regular = regular
role-sitter = sitter
role-helper = helper

# What people see.
sighting-leak = leak
sighting-wet-substrate = wet substrate
sighting-mould = mould
sighting-condensation = condensation
sighting-splashing = splashing
sighting-tipped-filter = tipped filter
sighting-escape = escape
sighting-trouble = crab in trouble

# How a duty stands, as a tide height.
mark-calm = calm
mark-due = due
mark-overdue = overdue
mark-hazard = hazard

# Weekdays, 1 Monday to 7 Sunday.
weekday-1 = Monday
weekday-2 = Tuesday
weekday-3 = Wednesday
weekday-4 = Thursday
weekday-5 = Friday
weekday-6 = Saturday
weekday-7 = Sunday

# Months.
month-1 = January
month-2 = February
month-3 = March
month-4 = April
month-5 = May
month-6 = June
month-7 = July
month-8 = August
month-9 = September
month-10 = October
month-11 = November
month-12 = December
