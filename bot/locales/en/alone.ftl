### How long the place can be left, and the visits that it takes.

no-alone-both = A span and a return exclude each other; say one of them, as in { $usage }.

alone-no-pools = No pool here is in use or cycling, so no water waits for anybody; set one up with /pool add.
alone-past = { $leave } is over; say a time to come.
alone-ends-first = The time alone ends before it begins: from { $leave } to { $back }; say the return after the leaving.
alone-long = { $days } days are the most that is planned for; say a shorter time, and ask again before it is over.

# The first line.
alone-title = First to fail: { $what }, { $when }, hour { $hour } after leaving. { $visits }
alone-title-later = Nothing reaches its limit until { $back }; the first would be { $what }, { $when }. { $visits }
alone-title-never = Nothing here has a limit that is reached until { $back }.
alone-visits-short = { $count ->
    [0] { $holds ->
        [yes] No visit is needed.
       *[no] No visit holds it.
    }
    [one] { $holds ->
        [yes] One visit prevents it: { $times }.
       *[no] One visit holds all but what stands below: { $times }.
    }
   *[other] { $holds ->
        [yes] { $count } visits prevent it: { $times }.
       *[no] { $count } visits hold all but what stands below: { $times }.
    }
}
alone-open = Still open: { $what }. None of this is counted here: nobody leaves before it is closed.
alone-caution = Nobody there means that nobody sees a leak, a tipped filter, a crab that is out, or a power cut, and none of these waits for a limit. Let somebody look in each day where that can be had, and leave them /emergency. A limp or injured crab goes to a veterinarian who treats exotic animals: leave the number with whoever comes.
alone-gap = { $what }: its limit ({ $when }) comes too soon for any visit; somebody has to be there, or it has to be kept another way.
alone-gap-held = { $what }: it waits for the review of a quiet zone and is at its limit by then ({ $when }); the first visit after it does it.
alone-limit-why = { $turn } ({ $why })
alone-bares-fill-line = the water falls to the filter's fill line
alone-bares-shell = the water gets too shallow for the largest crab
alone-bares-stone = the water falls to the air stone

# Before leaving.
alone-before = Before leaving, { $leave }, in walking order:
alone-before-none = Before leaving, { $leave }: no duty falls due before the return.
alone-takes = { $duty } ({ $litres })
alone-as-it-stands = Left as it stands now, the first to fail is { $what }: { $past ->
    [yes] it has reached its limit already
   *[no] { $when }, hour { $hour } after leaving
}.
alone-fill = Fill each pool to its line last, with conditioned fresh water alone: salt stays behind when water evaporates.
alone-loses = { $pool } loses { $likely } a day ({ $low } to { $high }).
alone-bared = From full, { $what } is bare after { $low } days at the earliest ({ $likely } likely, { $high } at the latest).
alone-bare-now = In { $pool }, { $what } is bare although the pool is full: see /fit.
alone-what-fill-line = the filter's fill line
alone-what-shell = the largest crab's shell
alone-what-stone = the air stone
alone-salt = Without a top-up its salt goes from { $full } to { $likely } g/kg until the return ({ $low } to { $high }).
alone-fill-rests = Evaporation is known to a factor of two or three; the earliest end is planned with.
alone-untold = How fast the water falls in { $pools } is not computed, since no shape was told: the top-up's own limit stands for it (common practice). State it: /pool set { $pool } shape box 30x20x12 cm.
alone-power = Longer limits hang on moved water in { $pools }: with air and filter off, or in a power cut as you leave, the first of them is at its limit { $when } as a still pool. Leave them on.
alone-power-air = Air stays on only where it splashes nothing: stone under something heavy, check valve in the line, cord in a drip loop, flow as low as still moves the surface; more air evaporates more. Where that cannot be seen to, air off and the change of a still pool is the safer way (common practice).
alone-power-filter = A filter that stood still for more than a day has to prove its cycle again.
alone-batch = { $vessel }: { $amount }, use by { $date }{ $past ->
    [yes] , before the return: use it before leaving, or pour it away
   *[no] {""}
}. It is not counted in the portions.

# With nobody there.
alone-failures = With nobody there, all of that done:
alone-failure = { $when }, hour { $hour }: { $what }
alone-failures-more = and { $count } more
alone-undone = Overdue meanwhile, without a hazard: { $all }.
alone-undone-one = { $duty } ({ $spots }) from { $since }

# Visits.
alone-visit = Visit { $number }, { $when }:
alone-portion = Visit { $number }, { $pool }: { $what }.
alone-portion-salt = { $salt } salt, { $dose }, in { $source } of tap water
alone-portion-fresh = { $dose }, in { $source } of tap water
alone-dose-label = conditioner by its label
alone-portions = Portions for all visits: { $sum }, with the margin for spills, as /mix gives them. A top-up takes conditioned fresh water alone.
alone-grounds = { $times ->
    [rounds] Visits are at rounds
   *[hours] Visits are at whole hours, since rounds lie too far apart for a limit
}, { $margin } h before a limit at the latest (common practice); fewer would not do. At each, all is done that falls due before the next one. Limits are hours since a duty was last done, by the catalogue or as this place set them: /duty list.
