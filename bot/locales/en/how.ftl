# The steps of each duty, and what can be said.

how-title = { $duty }, { $target }: { $count } steps.
how-title-amount = { $duty }, { $target }, { $amount }: { $count } steps.
how-title-part = { $duty }, { $target }, { $amount } of { $litres }: { $count } steps.
how-step = { $number } · { $text }
how-spot = SPOT
how-practice = Common practice; where this place does it otherwise, the place decides.
how-then = Then say: /did { $duty } { $spot }

# Today's quantities.
how-today-each = { $water }, in buckets of up to { $holds }: tap water, { $tap }.
how-today-each-salt = { $water }, in buckets of up to { $holds }: tap water, { $tap }; the salt, { $salt }.
how-today-buckets = { $count ->
    [one] 1 bucket of { $holds }
   *[other] { $count } buckets of { $holds }
}
how-today-warm = Bring it to { $warm }, as the pool was read.
how-today-rests = That is { $margin } % more than the pool takes, for what is spilt. That margin, { $target } g/kg and buckets of { $holds } are common practice. Measure before use.
how-today-rests-own = That is { $margin } % more than the pool takes, for what is spilt. That margin, { $target } g/kg and buckets of { $holds } are this place's supplies. Measure before use.
how-today-margin = That is { $margin } % more than the pool takes, for what is spilt.
how-today-siphon = What is siphoned out fills { $buckets }.
how-today-siphon-minutes = What is siphoned out fills { $buckets }, about { $minutes } min with carrying (common practice; the tube is told by /plumb { $spot }).
how-today-dose-label = Conditioner, { $dose } for { $litres }, by the label this place entered.
how-today-dose = Conditioner for { $litres }, by its label.
how-today-gone = About { $amount } has evaporated: { $now } g/kg now, { $then } g/kg { $assumed ->
    [yes] at the line (common practice)
   *[no] when it was last filled
}.
how-test-dosed = Ammonia that goes in is logged too: /read { $spot } dosed ammonia 2 mg/L. 0/0/0 without it proves nothing.
how-test-tap = And what the tap water holds: /read { $spot } tap nitrate 5 mg/L

# Change.
how-change-1 = Prepare the fresh water: tap water with conditioner by its label, left to reach the pool's temperature.
how-change-1-salt = Prepare the salt water: tap water with conditioner by its label, then marine mix, stirred until clear, left to reach the pool's temperature.
how-change-2 = Unplug what hangs in the pool, see that no crab sits in it, lift it out and empty it.
how-change-2-siphon = Unplug filter, pump and heater, see that no crab sits in the pool, and siphon its { $litres } into buckets that stand lower than the pool.
how-change-3 = Rinse the pool, its grip stones and its ramp under hot water, without soap.
how-change-3-siphon = Wipe walls, grip stones and ramp with a clean cloth, without soap; keep the filter's media wet.
how-change-4 = Set it back level, pour in the { $litres }, check the way in and the way out, then plug in again.
how-change-4-siphon = Pour in the { $litres } slowly, over the filter's fill line, check the way in and the way out, then plug in again.

# Part change.
how-part-1 = Prepare the fresh water: tap water with conditioner by its label, left to reach the pool's temperature.
how-part-1-salt = Prepare the salt water: tap water with conditioner by its label, then marine mix, stirred until clear, left to reach the pool's temperature.
how-part-2 = Unplug filter, pump and heater, see that no crab sits in the pool, and siphon { $part } of its { $litres } out, with the dirt on the bottom, into a bucket that stands lower than the pool.
how-part-3 = Wipe walls, grip stones and ramp with a clean cloth, without soap; keep the filter's media wet.
how-part-4 = Pour in the { $part } slowly, over the filter's fill line, then plug in again and see that the water runs.
how-part-all = In a pool this small a part change takes as much of the water as can be had.

# Conditioning.
how-condition-1 = Read the label of the conditioner: how much it says for { $litres }, and for how long it holds.
how-condition-2 = Give that amount by its label to the pool, and stir with something clean.

# Top-up.
how-topup-1 = Take fresh water, treated with conditioner by its label and at the pool's temperature.
how-topup-1-salt = Take fresh water, not salt water: what evaporates leaves its salt behind. Treat it with conditioner by its label, and let it reach the pool's temperature.
how-topup-2 = Pour it in slowly up to the line, and note how much it took.

# Water test.
how-test-1 = Rinse the vial with water of this pool and fill it to its mark.
how-test-2 = Test ammonia, nitrite and nitrate by the leaflet of the kit, with the waiting times that it states.
how-test-3 = Say the values with their units: /read { $spot } ammonia 0 mg/L nitrite 0 mg/L nitrate 5 mg/L

# Media rinse.
how-rinse-1 = Unplug the filter, draw a bowl of water from this pool, and lift the media into it.
how-rinse-2 = Swirl the media in that water: never under the tap, and never all media at once.
how-rinse-3 = Put them back wet, see that the water covers the fill line, plug in, and see that the water runs.

# Stone and pump check.
how-air-1 = Unplug the pump; see that it stands above the water line, or that a check valve sits in the airline.
how-air-2 = Lift the stone out, rinse off slime and salt under hot water, and check the airline for cracks.
how-air-3 = Put the stone back under something heavy, plug in, and turn the valve until the surface barely moves.

# Morning look.
how-look-1 = Look at the pools: full to the line, clear, with a way in and a way out.
how-look-2 = Look at the crabs that are out, and at lid, cords and airlines: shut, without a gap.
how-look-3 = Look at substrate and glass, and say what is not as it should be: /saw wet substrate { $spot }

# Reading.
how-reading-1 = Read humidity and temperature before the lid is opened.
how-reading-2 = Say both: /read { $spot } { $sample }

# Leak check.
how-leak-1 = See that no crab sits in it, lift the inner container out, and look whether the outer one is dry.
how-leak-2 = Dry both and set the inner one back level; if water stood between them, say: /saw leak { $spot }

# Scrub.
how-scrub-1 = Take grip stones and ramp out, crabs off first; leave what stands in a quiet zone.
how-scrub-2 = Scrub them under hot water without soap, rinse, and set them back steady, with a way in and a way out.

# Hygrometer check.
how-hygrometer-1 = Stir table salt with a little water to a thick wet paste in a small lid, and close it with the hygrometer into a jar or bag, the two not touching.
how-hygrometer-2 = Leave it at an even temperature for a day; the air over the paste then has 75.3 % at 25 °C, 75.5 % at 20 °C and 75.1 % at 30 °C.
how-hygrometer-3 = Note by how much the instrument is off, and take that off its readings from now on.

# Cautions.
how-care-mains = Mains beside water: unplug pump, heater and filter before a hand goes in. Each cord hangs in a drip loop below its outlet, behind a residual-current device. Local codes and licensed people come first.
how-care-lift = { $litres } of water weigh about { $mass }. Empty before lifting, carry in small buckets, lift with two where it is heavy, and never lift a glass tank by its rim.
how-care-water = Treated water only, in both pools.
how-care-water-salt = Treated water only, in both pools. For the salt pool marine mix, never table salt.
how-care-sick = A sick or injured crab goes to a veterinarian who treats exotic animals.
how-care-quiet = Quiet zone in { $name }, { $spot }: a crab moults there until { $until }. Dig, lift and scrub nothing on that side.
how-care-paste = The salt paste stays in its jar: table salt never goes near the pools.

# What is not this pool's own turn.
how-part-instead = { $target } is filtered: its own turn is a part change, { $part } of { $litres }.
how-change-first = The filter of { $target } is proven, and its first change under it is still to come: that one is of all { $litres }, then part changes.
how-change-unproven = The filter of { $target } is not proven yet: its own turn is a change of all { $litres }.
how-change-lapsed = The filter of { $target } has to prove itself again: until then its own turn is a change of all { $litres }.
how-change-stopped = The filter of { $target } stands still: its own turn is a change of all { $litres }.
how-change-instead = { $target } is not filtered: its own turn is a change of all { $litres }.
how-not-called = { $target } has no such turn now.

# Duties of a place's own.
how-own = { $name }, { $target }: { $schedule }.
how-own-next = Next: { $due }.
how-own-steps = The steps are this place's own: ask { $keepers } how it is done.

# Refusals.
how-gone = That duty is no longer done.
how-nowhere = There is nothing there that has this duty.
how-which = That is several; say one: { $names }.
how-no-gear = { $target } has no { $gear }.
how-not-nested = { $target } is a single container and has no leak check.

# Help.
how-help-title = { $count ->
    [one] 1 line you can say
   *[other] { $count } lines you can say
}
how-help-one = How to say /{ $line }
how-help-item = { $usage } – { $hint }
how-help-more = One line at a time: /help LINE
how-help-none = /{ $line } is for keepers.
