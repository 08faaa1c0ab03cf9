# Setting a place up and changing it.

# Refusals: one sentence, and nothing was changed.
setup-from-future = { $at } is still to come; a change counts from now or from a time before.
setup-nothing = Say what is to change as well.
setup-name-empty = A name needs at least one letter.
setup-volume-none = A volume has to be over zero.
setup-length-none = A length has to be over zero.
setup-before = { $what } was set up { $since }; a change cannot count from before that.
setup-earlier = The same was changed at { $what } { $last }; a change that counts from before that would have no effect.

setup-zone-unknown = There is no time zone called { $zone }; zones are named like America/New_York.
setup-quiet-empty = Quiet hours from { $time } to { $time } have no length; say two different times, or none.

setup-round-name = There is a round called { $name } already.
setup-round-time = At { $time } there is a round already: { $round }.
setup-round-already = { $round } is at { $time } already.
setup-round-assumed = That round is only assumed; set one up with /rounds add NAME TIME.
setup-round-gone = That round is no longer held.

setup-carer-name = { $name } shares the work already.
setup-carer-gone = That person does not share the work any more.
setup-carer-last-keeper = { $name } is the only keeper, and a place needs one; make someone else keeper first.
setup-stand-in-self = { $name } cannot be their own stand-in.
setup-stand-in-helper = { $name } is a helper and has no account, so no turn can be passed on to them.

setup-enclosure-name = There is an enclosure called { $name } already.
setup-enclosure-gone = That enclosure is no longer kept.
setup-enclosure-small = { $litres } are less than the water in { $pool }, { $water }.
setup-crabs-size = The smallest crab cannot be larger than the largest: { $smallest } against { $largest }.
setup-habit-helper = { $name } is a helper and has no account, so no turn can be called to them.
setup-quiet-past = { $date } is not after today; a quiet zone is looked at again on a later day.

setup-pool-gone = That pool is no longer kept.
setup-pool-large = { $litres } of water are more than { $enclosure } holds in all, { $all }.
setup-life-already = { $pool } is { $life } already.

setup-gear-no-pool = There is no pool there that gear could be fitted to.
setup-gear-air-proven = Only a filter has a cycle to prove; air counts from the moment it is fitted.
setup-gear-fitted = { $pool } has its { $gear } already, fitted { $at }.
setup-gear-not-fitted = { $pool } has no { $gear }.
setup-gear-stopped = The { $gear } of { $pool } stands still already, since { $at }.
setup-gear-runs = The { $gear } of { $pool } runs already.
setup-gear-proven = The cycle of the { $gear } of { $pool } is proven already, since { $at }.
setup-gear-before = { $pool } counts from { $since }, and its gear cannot count from before that; an older pool is added with an earlier time: /pool add … from TIME.
setup-gear-earlier = The { $gear } of { $pool } was last changed { $last }; say a time after that.

setup-every-none = An interval has to be over zero.
setup-hazard-short = A hazard after { $hazard } would come before the duty falls due, { $every }; say a longer hazard with it.
setup-grace-long = A grace of { $grace } is longer than the { $hazard } to the hazard.
setup-own-name = There is a duty called { $name } already.
setup-own-catalogue = { $name } is a duty of the catalogue already; /duty set changes its numbers.
setup-own-one = A duty is of one pool or one enclosure; name one, or none for the place as a whole.
setup-own-where = That pool or enclosure is no longer kept.
setup-own-never = That schedule has no day on which it would come.
setup-own-gone = That duty is no longer done.

# What follows from a change.
setup-next = Next: { $duty }, { $due }.
setup-next-marked = Next: { $duty }, { $due }: { $mark }.
setup-pool-second = { $enclosure } has a pool of { $water } water already. Retire that one before another takes its place.
setup-also = Also: { $turns }.
setup-also-turns = { $duties }, { $due }
setup-due-since = due since { $at }
setup-no-longer-called = No longer called: { $duties }.
setup-journal-keeps = The journal keeps all that was logged.
setup-retired = { $what } is no longer kept.

# Numbers and schedules.
setup-every-days = { $count ->
    [one] every day
   *[other] every { $count } days
}
setup-every-hours = { $count ->
    [one] every hour
   *[other] every { $count } h
}
setup-days = { $count ->
    [one] 1 day
   *[other] { $count } days
}
setup-hours = { $count } h
setup-grace-round = the next round
setup-never = never
setup-on-days = on { $days }, at the first round
setup-on-days-at = on { $days } at { $time }
setup-by-cron = by cron { $cron }
setup-numbers = { $every }; overdue after { $grace }; hazard after { $hazard }
setup-numbers-no-hazard = { $every }; overdue after { $grace }; never a hazard
setup-basis-practice = common practice
setup-basis-label = the conditioner's label; 48 h where it states none (common practice)
setup-basis-place = this place

# The chat platform.
link-not-here = A channel, a zone or a code is said on the server itself; here say /place link alone, for a code.
link-code = Code: { $code }. It works once, within { $minutes } min.
link-code-use = On the server, whoever may manage it says /place link CHANNEL code { $code }. Whoever says it speaks there as you.
link-not-manager = Only a member who may manage the server can link it.
link-code-wrong = That code is wrong, used or too old; a keeper gets a new one with /place link on the porch or in the shell. Nothing was changed.
link-server-taken = This server is another place's already. Nothing was changed.
link-done = { $place } is linked to this server; its calls and alarms go to the channel that you named.
link-keepers = Keepers: { $keepers }.
link-zone-unsaid = No zone is set, so times are told in UTC. Set it: /place set zone Europe/London.
link-next = Next: /enclosure add NAME VOLUME, then /carer add @member for each who shares the work.
link-next-carers = Next: /carer add @member for each who shares the work.
link-unlinked = This server is not linked to a place yet; a member who may manage it says /place link.
link-stranger = You do not share the work of this place yet; { $keepers } can add you with /carer add.
setup-account-linked = { $name } may now log from the group's chat.
setup-account-helper = { $name } as { $role } has no account; say another role with it.
setup-account-taken = That account is { $name }'s already; each carer has their own.

# The place.
setup-place-name = The place is called { $name }.
setup-place-zone = Zone: { $zone }, where it is { $time } now. Rounds keep their wall-clock time: { $rounds }.
setup-quiet-hours = Quiet hours: { $from } to { $to }. Only a danger is posted then.
setup-quiet-hours-none = No quiet hours.
setup-units-metric = Amounts are told in litres, °C, centimetres and grams.
setup-units-us = Amounts are told in US gallons, °F, inches, ounces and pounds.
setup-units-imperial = Amounts are told in imperial gallons, °C, centimetres and grams.
setup-place-gravity = Specific gravity is read as { $convention }.
setup-place-gravity-none = No convention for specific gravity is stated: /place set sg 25/25.
setup-place-unnamed = This place
setup-place-title = { $name }: { $has }.
setup-place-has = { $enclosures ->
    [one] 1 enclosure
   *[other] { $enclosures } enclosures
}, { $pools ->
    [one] 1 pool
   *[other] { $pools } pools
}, { $carers ->
    [one] 1 carer
   *[other] { $carers } carers
}
setup-place-clock = Zone: { $zone }, where it is { $time } now.
setup-place-rounds = Rounds: { $rounds }.

# Rounds.
setup-round-added = { $round }: care at { $time }, next { $next }.
setup-round-no-longer-assumed = The round that was assumed at { $time } is not held any more.
setup-round-moved = { $round } moves from { $before } to { $time }; next { $next }.
setup-round-retired = { $round } is no longer held. Left: { $rounds }.
setup-round-last = { $round } is no longer held. No round is left, so one at { $time } is assumed.
setup-round-quiet = { $round } lies in the quiet hours, { $from } to { $to }: its call waits until { $called }.
setup-rounds-none = No rounds yet, so one at { $time } is assumed: /rounds add NAME TIME.
setup-rounds-title = { $count ->
    [one] 1 round
   *[other] { $count } rounds
}
hush-receipt = Hushed until { $until }: rounds and late turns are not called, dangers are. /due has the turns.
hush-off-receipt = The hush is over: rounds and late turns are called again.
hushed = Hushed until { $until }: rounds and late turns are not called, dangers are.
refuse-hush-who = A hush is for a keeper or a regular to set.
refuse-hush-past = { $until } has passed: say a later time, such as until 21:00.
refuse-hush-long = A hush lasts at most { $days } days; say a nearer end, as until sunday.
hush-end-of-day = the end of { $date }
hush-end-of-today = the end of today
refuse-hush-none = No hush holds, so there is none to end.
setup-rounds-item = { $round }, next { $next }.

# Carers.
setup-carer-added = { $name } shares the work as { $role }.
setup-carer-role = { $name } is { $role } now.
setup-role-keeper = A keeper answers for the animals and sets things up.
setup-role-regular = A regular shares the turns.
setup-role-sitter = A sitter shares the turns for a span of days.
setup-role-helper = A helper has no account; others log for them, with by and the name.
setup-stand-in = When { $name } does not answer, { $other } is asked.
setup-stand-in-none = When { $name } does not answer, the next one in order is asked.
setup-stand-in-lost = { $names } had { $name } as stand-in; the next one in order is asked until another stand-in is named.
setup-carer-nobody = { $count ->
    [one] 1 turn of the next two weeks is with nobody now
   *[other] { $count } turns of the next two weeks are with nobody now
}: /turns all tells which, and why.
setup-carer-retired = { $name } no longer shares the work; the journal keeps what they did.
setup-carer-habit-lost = { $enclosures } had them as carer by habit; those turns now go round everyone.
setup-carers-title = { $count ->
    [one] 1 carer
   *[other] { $count } carers
}

# Enclosures.
setup-enclosure-added = { $name }: { $litres }, kept from { $at }.
setup-enclosure-besides = Besides: { $besides }.
setup-enclosure-pools = Its pools come next: /pool add { $name } fresh VOLUME, /pool add { $name } salt VOLUME.
setup-enclosure-renamed = { $before } is called { $name } now.
setup-enclosure-litres = { $name }: { $litres } in all, { $before } before.
setup-enclosure-room = Room of { $name }: { $room }.
setup-enclosure-room-none = No room is named for { $name } any more.
setup-enclosure-order = Walking order: { $walk }.
setup-enclosure-crabs = { $name }: { $count ->
    [one] 1 crab
   *[other] { $count } crabs
}.
setup-enclosure-smallest = { $name }: the smallest crab measures { $length }.
setup-enclosure-largest = { $name }: the largest crab measures { $length }; it has to be able to submerge.
setup-enclosure-habit = { $name }: turns are expected of { $carer }.
setup-enclosure-habit-none = { $name }: turns go round everyone.
setup-quarantine = { $name } is kept apart and comes last in the walking order.
setup-quarantine-none = { $name } is no longer kept apart.
setup-sensor = A sensor reads { $name }; the daily reading by hand is no longer called.
setup-sensor-none = { $name } is read by hand; next reading: { $next }.
setup-quiet = Quiet zone in { $name }, { $spot }, until { $until }: dig, lift and scrub nothing there.
setup-quiet-waits = { $duties } { $count ->
    [one] waits
   *[other] wait
} until then.
setup-quiet-nothing-waits = No duty that is called there digs, lifts or scrubs.
setup-quiet-none = { $name } has no quiet zone any more.
setup-enclosure-retired = { $enclosure } is no longer kept, nor { $pools }.
setup-enclosures-none = No enclosures yet: /enclosure add NAME VOLUME.
setup-enclosures-title = { $count ->
    [one] 1 enclosure
   *[other] { $count } enclosures, in walking order
}
setup-crabs = { $count ->
    [one] 1 crab
   *[other] { $count } crabs
}
setup-smallest = smallest { $length }
setup-largest = largest { $length }
setup-habit = { $name } by habit
setup-has-sensor = sensor
setup-in-quarantine = quarantine
setup-quiet-short = quiet zone until { $until }

# Pools.
setup-pool-added = { $pool }: { $litres } of { $water } water, { $life } from { $at }.
setup-pool-litres = { $pool }: { $litres } from { $at }, { $before } before.
setup-pool-removable = { $pool } lifts out whole.
setup-pool-stationary = { $pool } stays in its place and is siphoned.
setup-pool-nested = { $pool } is one container in another; a leak check is called.
setup-pool-single = { $pool } is a single container; no leak check is called.
setup-pool-life = { $pool }: { $life } from { $at }.
setup-cycling = While it cycles it stays closed to the crabs, and no change is called. Its cycle is proven by tests (/why { $pool }) or by a keeper's word, /gear set { $pool } filter proven; then /pool set { $pool } life in use.
setup-open-unproven = Its filter’s cycle is not proven: test ammonia and nitrite before crabs go in, or keep it closed with /pool set { $pool } life cycling.
setup-cycling-bare = It has no filter that could cycle yet: /gear add { $pool } filter. Its water test is called from then on.
setup-idle = No duty is called for it until it is in use: /pool set { $pool } life in use.
setup-pools-none = No pools yet: /pool add ENCLOSURE fresh VOLUME.
setup-pools-title = { $count ->
    [one] 1 pool
   *[other] { $count } pools
}
setup-is-nested = nested
setup-is-stationary = stationary

# Gear.
setup-gear-state-stopped = { $gear }, stands still since { $at }
setup-gear-state-unproven = { $gear }, cycle not proven
setup-air-added = { $pool }: air from { $at }.
setup-air-stopped = { $pool }: the air stands still from { $at }.
setup-air-started = { $pool }: the air runs again from { $at }.
setup-air-retired = { $pool }: the air is taken off, from { $at }.
setup-filter-added = { $pool }: filter fitted from { $at }, its cycle not proven.
setup-filter-added-proven = { $pool }: filter from { $at }, its cycle proven.
setup-filter-stopped = { $pool }: the filter stands still from { $at }.
setup-filter-started = { $pool }: the filter runs again from { $at }.
setup-filter-proven = { $pool }: the filter's cycle is proven from { $at }.
setup-filter-retired = { $pool }: the filter is taken off, from { $at }.
setup-whole = Change: all { $all } { $every }.
setup-part = Part change: { $part } of { $all } { $every }.
setup-air-waits = Until the first change under air the cadence of a still pool holds: a change { $holds }. After it: { $then }.
setup-air-stands = Without its air the pool is still: a change { $holds }.
setup-filter-waits = Until the first change under the filter the cadence without it holds: a change { $holds }. After it: a part change, { $part } of { $all }, { $then }.
setup-filter-unproven = Until its cycle is proven the pool keeps the cadence that it has without the filter: a change { $holds }. Tests prove it (/why { $pool } tells what is missing), or a keeper's word: /gear set { $pool } filter proven.
setup-filter-lapsed = What the filter had proven counts no longer since { $at }. Until it proves itself again the pool keeps the cadence that it has without it: a change { $holds }; /why { $pool } tells what is missing.
setup-filter-stands = While the filter stands still the cadence without it holds: a change { $holds }.
setup-gear-idle = { $pool } is { $life }: no change is called until it is in use.
setup-filter-rested = The filter stood still for { $hours } h. After more than { $rinse } h its media are rinsed in pool water before it runs (common practice).
setup-filter-rested-long = The filter stood still for { $hours } h. After more than { $rinse } h its media are rinsed in pool water before it runs, and after more than { $prove } h its cycle has to be proven again (common practice): starting it does not bring the proof back. Test ammonia and nitrite; until they are in order, change all the water.
setup-gear-mains = Mains beside water: unplug before a hand goes in. The cord hangs in a drip loop below the outlet, behind a residual-current device. Local codes and licensed people come first.
setup-gear-none = No gear is fitted: all pools are still. /gear add SPOT air
setup-gear-title = { $count ->
    [one] 1 piece of gear
   *[other] { $count } pieces of gear
}

# Duties.
setup-duty-set = { $rule }: { $numbers }.
setup-duty-catalogue = The catalogue: { $numbers }.
setup-duty-nowhere = No pool or enclosure has this duty now.
setup-duty-due = { $target }: { $duty }, { $due }
setup-duties-title = { $count } rows of the catalogue, { $own ->
    [one] 1 duty
   *[other] { $own } duties
} of the place's own
setup-own-often = Two turns of one duty lie at least { $minutes } min apart; that rule asks for more.
setup-own-added = { $name }, { $target }: { $schedule }.
setup-own-first = First due: { $due }.
setup-own-grace = Overdue { $grace } after it is due.
setup-own-disturbs = A quiet zone holds it back.
setup-own-retired = { $name }, { $target }, is no longer called.
setup-own-row = { $name } ({ $target })

# Heads of tables.
setup-head-name = Name
setup-head-role = Role
setup-head-stand-in = Stand-in
setup-head-habit = Carer of
setup-head-enclosure = Enclosure
setup-head-room = Room
setup-head-volume = Volume
setup-head-besides = Besides
setup-head-pool = Pool
setup-head-life = Life
setup-head-gear = Gear
setup-head-since = Since
setup-head-duty = Duty
setup-head-every = How often
setup-head-grace = Overdue after
setup-head-hazard = Hazard after
setup-head-basis = Rests on
