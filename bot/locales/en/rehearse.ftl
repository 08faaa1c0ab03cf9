# The place's own past under another way of keeping.

# The verdict.
rehearse-title = { $keeping }, { $subject } would have wanted { $would ->
    [one] { $would } change
   *[other] { $would } changes
} instead of { $was } in { $days } days: { $litres } of water instead of { $waslitres }, { $minutes } min a week instead of { $wasminutes }.
rehearse-title-turns = { $keeping }, { $subject } would have wanted { $would ->
    [one] { $would } turn
   *[other] { $would } turns
} of it instead of { $was } in { $days } days, { $minutes } min a week in all instead of { $wasminutes }.
rehearse-title-same = { $subject } in { $days } days: { $was ->
    [one] { $was } change
   *[other] { $was } changes
}, { $litres } of water, { $minutes } min a week. Replayed with nothing changed, { $differ ->
    [0] all { $marks } marks at the rounds are those of the journal
   *[other] { $differ } of { $marks } marks at the rounds are not those of the journal
}.
rehearse-with = { $gear ->
    [air] with air
    [proven] with a proven filter
   *[filter] with a filter
}
rehearse-without = { $gear ->
    [air] without air
   *[filter] without a filter
}
rehearse-litres = with { $litres }
rehearse-numbers = with { $rule } { $every }
rehearse-numbers-hazard = with { $rule } { $every }, a hazard after { $hazard }
rehearse-verdict-same = Every turn would have come when it came: the set-up as it is does as well.
rehearse-verdict-small = The difference is small, and no turn came to a hazard as it was: the simple set-up works{ $buys ->
    [yes] , and nothing need be bought
   *[no] {""}
}.
rehearse-verdict-works = No turn came to a hazard as it was: the set-up as it is works too{ $buys ->
    [yes] , and nothing need be bought
   *[no] {""}
}.
rehearse-verdict-hazards = Turns that came to a hazard: { $was } as it was, { $would } as it would have been.

# Side by side.
rehearse-head-what = What
rehearse-head-was = as it was
rehearse-head-would = as it would have been
rehearse-row-water = Water changed a week
rehearse-row-water-of = Water changed a week, { $pool }
rehearse-row-salt = Salt a week
rehearse-row-conditioner = Conditioner a week
rehearse-row-minutes = Minutes a week
rehearse-row-person = Minutes a week, { $name }
rehearse-row-late = Turns that were late
rehearse-row-hazards = Turns that came to a hazard
rehearse-row-left = Least left before a hazard, { $duty }
rehearse-left = { $hours } h
rehearse-past = { $hours } h past it
rehearse-at-once = none at all

# Margins and power cuts.
rehearse-stays = With every deed just as it was, the least left before the hazard of a change would have been { $left }; as it was kept, it was { $was }.
rehearse-cut = { $pool } in a power cut, { $keeping }: its water stands still from then on. At the worst time, { $at }, the time left before the hazard of its change was { $left }. Of { $rounds } rounds, a cut from then on would have come to that within 12 h at { $half } and within 24 h at { $whole }, if nobody had changed the water.
rehearse-cut-still = { $pool } in a power cut, { $keeping }: nothing runs that could stop. At the worst time, { $at }, the time left before the hazard of its change was { $left }.
rehearse-filter = A filter that stands for more than { $hours } h has its cycle to prove anew.

# What it is taken from.
rehearse-numbers-all = A rule's numbers hold for the whole place, so all of it is told.
rehearse-span = Counted from { $from } to { $to }. Nothing was written.
rehearse-span-days = Counted from { $from } to the end of { $to }. Nothing was written.
rehearse-assumed = Assumed: a turn that would have fallen due at another time is done whole, as long after it as turns of its kind here were, by the same people in the same proportions; all others stay as they were. What the journal says of the changed gear, volume or numbers in that time is left out.
rehearse-rests = Intervals, hazard limits and minutes are common practice with no published source, where the place set none of its own. Salt and conditioner are computed with the spill margin. Top-ups count no water: they make up what evaporates.

# What cannot be rehearsed.
rehearse-no-to-come = { $from } is still to come; a rehearsal replays days that have been.
rehearse-no-end-to-come = { $to } is still to come; leave “to” out for up to now.
rehearse-no-last-to-come = { $to } is not over yet; leave “to” out for up to now.
rehearse-no-backwards-days = The span ends with { $to }, before it begins on { $from }; say the earlier day behind “from”.
rehearse-no-backwards = The span ends on { $to }, before it begins on { $from }; say the earlier day behind “from”.
rehearse-no-short = A rehearsal takes { $least } days at least, and this span has { $days }; say an earlier day behind “from”.
rehearse-no-long = A rehearsal takes { $most } days at most, and this span has { $days }; say a later day behind “from”.
rehearse-no-pool-yet = { $pool } was set up on { $since }, so it was not there on { $from }; say a later day behind “from”.
rehearse-no-runs-already = { $pool } has been kept { $with } since { $since } already; say “{ $other }” for the other way.
rehearse-no-never-there = { $pool } was kept { $without } all that time; say “{ $other }” for the other way.
rehearse-no-both = A pool is rehearsed { $with } or without it, not both.
rehearse-no-same-litres = { $pool } holds just that already; say another volume.
rehearse-no-same-numbers = These are the numbers of the { $rule } already; say others.
rehearse-no-one-rule = These pools go by different rules; name one of them, or a rule, such as rule still every 3 days.
