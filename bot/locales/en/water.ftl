### Water: what is mixed, what part changes do, what the place mixes with.

# What a round call says is to be prepared.
prepare = Prepare { $amounts }
prepare-one = { $amount } { $water }
prepare-with = { $amount } { $water } ({ $parts })
prepare-salt = { $salt } salt
prepare-dose = conditioner { $dose }
prepare-expect = expect { $shown }

# An amount.
mix-dry-salt = dry salt
mix-title-salt = { $salt } of { $name } into { $source } of tap water makes { $finished } at { $salinity }.
mix-title-salt-dose = { $salt } of { $name } into { $source } of tap water, with { $dose } of conditioner in it first, makes { $finished } at { $salinity }.
mix-title-fresh = { $source } of fresh water: conditioner { $dose }.
mix-title-fresh-label = { $source } of fresh water: conditioner by its label.
mix-title-changes = { $prepare }
mix-expect = Expect { $gravities }; { $conductivity }.
mix-conditioner = Conditioner
mix-the-salt = The salt
mix-label = { $name }: { $dose } for { $per }, by its label.
mix-dose-none = Conditioner: the label of the bottle decides, so no dose is given here. A keeper enters it with /supplies set conditioner "NAME" { $units ->
    [us] 5 mL per 10 gal
   *[other] 5 mL per 40 L
}.
mix-dose-doubled = Doubled for chloramine, as its label says.
mix-dose-unsaid = The tap water holds chloramine and the label says nothing of it: this is the single dose; ask its maker.
mix-dose-ammonia = It binds ammonia by its label, so an ammonia test in this water may mislead (common practice, no published source).
mix-keep-salt = To keep it in a vessel for later, say: /batch add VESSEL { $finished } salt { $salinity }
mix-keep-fresh = To keep it in a vessel for later, say: /batch add VESSEL { $finished } fresh
mix-at = Volumes are measured at { $at }.
mix-factor-learnt = { $name } counts { $factor } of dry salt, learnt from { $count ->
    [one] 1 measured batch
   *[other] { $count } measured batches
}.
mix-factor-said = { $name } counts { $factor } of dry salt, by the keeper's word.
mix-factor-dry = { $name } is taken for dry salt (common practice); most mixes hold some water and need a little more. Measure, and let it be learnt: /supplies set salt measured 34.1 after { $units ->
    [us] 2.5 gal with 12 oz
   *[other] 10 L with 358 g
}.
mix-beyond = { $value } lies outside the range { $low } to { $high } that a formula was published for: take the reading to expect as near.
mix-rests = Masses by the balance of salt and water, gravity by the equation of state of 1980; the answer rests on { $on }.
rests-place = this place's own figures
rests-seen = a published source
rests-computed = computation from what this place said
rests-memory = a published source from memory
rests-practice = common practice in its weakest part

# The steps at the bucket.
mix-each = { $count ->
    [one] 1 bucket with { $amount }
   *[other] { $count } buckets with { $amount } each
}
mix-each-water = { $water }: { $each }
mix-step-fill = Fill in tap water, about as warm as the pool: { $source }.
mix-step-condition = Conditioner in, before any salt: { $dose }.
mix-step-condition-label = Conditioner in, by its label, before any salt.
mix-step-act = Stir, and let it act as long as its label says.
mix-step-salt = Salt into the water, never water onto salt, little by little, while you stir: { $salt }.
mix-step-measure = Stir until it is clear, then measure. More than 1 g/kg off: put it right in the bucket, not in the pool.
mix-step-aerate = Let it stand with air, or stir it now and then.
mix-step-match = Bring it to the pool's temperature.
mix-step-change = Measure once more, then change the pool's water.
mix-caution = Salt and conditioner go into the bucket, never into a pool with crabs in it.

# The changes of a round.
mix-head-pool = Pool
mix-head-takes = Takes
mix-head-due = Due
mix-not-due = not due
mix-margin = { $margin } more than the pools take, for what is spilt.
mix-head-bucket = Bucket
mix-head-tap = Tap water
mix-head-salt = Salt
mix-head-conditioner = Conditioner
mix-bucket-one = { $water }, { $number } of { $all }
mix-bucket-each = { $water }, each of { $all }
mix-by-label = by label
mix-buckets = Buckets of up to { $holds }; the fullest weighs about { $lift } without the bucket itself.
mix-bucket-default = No bucket was set, so that size is common practice; yours: /supplies set bucket { $units ->
    [us] 3 gal
   *[other] 12 L
}.
mix-match = Match the temperature: { $read }.
mix-match-one = { $pool } { $at } ({ $when })
mix-match-unread = Match the pool's temperature: measure it, no reading of the last days is at hand.

# A pool that stands.
mix-the-pool = the pool
mix-stands-nothing = Nothing to do: { $pool } holds { $salinity }.
mix-stands-swap = Take { $out } out of { $pool } and put { $back } in: { $litres } go from { $start } to { $target }.
mix-stands-swap-days = From { $start } to { $target } in { $count } steps, a day apart: today take { $out } out of { $pool } and put { $back } in.
mix-stands-raise = Dissolve { $back } of salt in { $out } drawn from { $pool }, outside of it, and pour that back slowly: { $litres } go from { $start } to { $target }.
mix-stands-raise-days = From { $start } to { $target } in { $count } steps, a day apart: today dissolve { $back } of salt in { $out } drawn from { $pool }, outside of it, and pour that back slowly.
mix-head-day = Day
mix-head-out = Take out
mix-head-in = Put in
mix-head-then = Then
mix-stands-once-swap = At once it would be { $out }, { $part } of the pool; up to { $most } at once stays within a day's step.
mix-stands-once-raise = At once it would be { $back } of salt.
mix-stands-step = A step is at most { $step } g/kg a day: common practice, no published source.
mix-stands-read = It was read as { $salinity }, { $when }.
mix-stands-how-raise = The salt is dissolved and the water clear before it goes back, at the pool's temperature.
mix-stands-how-with = What goes in holds { $salinity }: mixed, measured and conditioned before, at the pool's temperature.
mix-stands-how-fresh = What goes in is fresh water with conditioner, at the pool's temperature.
mix-stands-low = If the level is low, salt is not too much but water too little: { $more } of fresh water on top brings all of it to { $target } with nothing taken out.
mix-top-up = What evaporates is made up with fresh water alone: the salt stays behind.
mix-rests-stands = By the balance of salt and mass; the answer rests on the reading and on the pool's volume.

# What cannot be mixed.
mix-no-target = { $target } g/kg is no salinity to mix for; it lies between 0 and { $limit } g/kg.
mix-no-below = The target of { $target } g/kg is below the { $holds } g/kg that the water holds already; say a target above it.
mix-no-between = { $target } g/kg does not lie between the pool's { $pool } and the { $new } g/kg of what goes in, so no swap reaches it; say other water with “with”.
mix-no-buckets = That would be { $needed } buckets; say less water, or a larger bucket with /supplies set bucket 25 L.
mix-no-bucket = { $litres } L is no bucket; it holds 0.1 to 1000 L.
mix-no-factor = { $measured } g/kg where { $expected } g/kg were to be expected is more than any salt explains; check the weights, the water and the reading.
mix-no-factor-range = A salt's factor lies between 0.7 and 1.3, which { $factor } does not.
mix-no-temperature = { $value } °C is no temperature to mix at; it lies between { $low } and { $high } °C.
mix-no-at = Water of { $at } is not mixed; say a temperature between { $low } and { $high }.
mix-no-salt = Salt water of { $salinity } would be fresh water; say fresh, or salt with what it is to hold, such as salt 35.
mix-no-gravity = Water of sg { $shown } ({ $convention }) cannot be mixed; it runs from { $low } to { $high } there.
mix-no-hold = A label's hold time of { $value } h cannot be right; it is more than 0 and at most 1000 h.
mix-no-dose = A label's dose of { $value } mL cannot be right; it is at most 10 L of the bottle.
mix-no-sense = Those amounts lie outside of what can be mixed; check the numbers and their units.
mix-no-fresh-salinity = Fresh water has no salinity to mix for; say salt with one, or fresh without.
mix-no-fresh-pool = { $pool } is a fresh pool; salt is mixed for a salt pool alone.
mix-no-start = What { $pool } holds was never read; say it, as in from 30 to 35.
mix-no-pools = There is no change to mix for; say which pool, or an amount such as /mix { $units ->
    [us] 2 gal
   *[other] 10 L
} salt 35.

# Part changes.
dilute-plan = { $count ->
    [one] 1 change of { $part }: from { $start } to { $target }, ending at { $end }.
   *[other] { $count } changes of { $part }, { $apart } apart: from { $start } to { $target }, ending at { $end }.
}
dilute-one = One change of { $part } brings { $start } to { $target }.
dilute-nothing = Nothing to do: { $target } is what is there.
dilute-apart-days = { $days ->
    [1] a day
   *[other] { $days } days
}
dilute-apart-hours = { $hours ->
    [1] an hour
   *[other] { $hours } hours
}
dilute-head-change = Change
dilute-head-day = Day
dilute-head-after = mg/L after it
dilute-or = Or:
dilute-head-part = Each change
dilute-head-count = Changes
dilute-head-end = Ends at mg/L
dilute-head-volumes = Pools of water
dilute-meanwhile = Counted without what comes in meanwhile; with that, say adds 2 mg/L a day.
dilute-keep = { $part } every { $every } keeps it under { $limit }: it settles between { $trough } and { $peak }.
dilute-keep-any = { $part } every { $every } keeps it under { $limit }, and any other interval does: it settles between { $trough } and { $peak }.
dilute-keep-over = { $part } every { $every } is too seldom for { $limit }: it settles at { $peak } before a change; every { $most } days or oftener keeps it under.
dilute-keep-oftener = Not even { $part } every day keeps it under { $limit }: it would take a change every { $most } days, or a larger one.
dilute-transient = From { $start }, it is { $first } before the first change, and { $highest } at its highest on the way.
dilute-first = It stands over { $limit } now: { $count ->
    [one] 1 change of { $part } brings
   *[other] { $count } changes of { $part } bring
} it under first.
dilute-until = Without any change it reaches { $limit } in { $days } days.
dilute-head-longest = At least every (days)
dilute-head-settles = Settles at mg/L
dilute-any = any
dilute-source-none = The tap water is taken to hold none of it: measure it, and say source 5.
dilute-each = Each change as always: conditioner in, temperature and salinity as the pool's.
dilute-nitrate = No limit for land hermit crabs is published; 40 mg/L of nitrate is fish practice.
dilute-nitrate-n = No limit for land hermit crabs is published; 9 mg/L of nitrate as N (40 as nitrate) is fish practice.
dilute-as-n = All figures as nitrogen (N), as they were said.
dilute-ammonia = Changes thin it and do not end it: look for what rots, and whether the filter still works. No limit for land hermit crabs is published.
dilute-rests = By the conservation of what is in the water, mixed well after each change; no more exact than the tests.

# What part changes cannot do.
dilute-no-above = The source is above the target: it holds { $source } mg/L and { $target } mg/L are wanted, which no change with it reaches; say a target above { $source }.
dilute-no-same = The source holds the target's { $target } mg/L itself, which part changes come near and never reach; say a target above it.
dilute-no-below = The source is below the target: it holds { $source } mg/L and { $target } mg/L are wanted, which changes with it cannot raise.
dilute-no-many = That would take about { $needed } changes, and a plan has { $most } at most; say a larger part, or a target further above the source.
dilute-no-part = A change of { $part } is none; it takes 0.1 % to all of the water.
dilute-no-interval = { $days } days is no interval for changes; it lies between a quarter of an hour and ten years.
dilute-no-concentration = { $value } mg/L is no concentration of water; it lies between 0 and 1,000,000.

# Supplies.
supplies-title = What this place mixes with.
supplies-default = { $text } (Common practice, nothing was set.)
supplies-unnamed = The salt
supplies-conditioner-none = Conditioner: no label was entered, so no dose is told.
supplies-holds = It holds what it binds for { $hours } h, by its label.
supplies-holds-default = Its label gives no hold time: { $hours } h are taken (common practice).
supplies-label-check = Held against stoichiometry: { $most } mg/L of chlorine, the most that any authority allows in drinking water ({ $who }), takes up to { $takes } mg of sodium thiosulfate crystals in a litre, so a thiosulfate bottle has to hold { $strength } mg in a mL; another product says so otherwise.
supplies-label-weak = Check the label's figures: for { $most } mg/L of chlorine, the most that any authority allows in drinking water ({ $who }), a litre takes up to { $takes } mg of sodium thiosulfate crystals, and at this dose no bottle is strong enough ({ $strength } mg in a mL).
supplies-salt = Salt: { $name }, taken for dry salt until it is measured.
supplies-salt-none = Salt: none named, taken for dry salt.
supplies-salt-learn = Measure a bucket once it is clear, and say it: /supplies set salt measured 34.1 after { $units ->
    [us] 2.5 gal with 12 oz
   *[other] 10 L with 358 g
}.
supplies-factor = A gram of the salt counts { $factor } g of dry salt, by the keeper's word.
supplies-learnt = Measured { $measured } g/kg where { $expected } were to be expected: the salt counts { $factor } of dry salt, learnt from { $count ->
    [one] 1 batch
   *[other] { $count } batches
}. The next doses are by that.
supplies-salt-learnt = { $name }: counts { $factor } of dry salt, learnt from { $count ->
    [one] 1 batch
   *[other] { $count } batches
}.
supplies-salt-factor = { $name }: counts { $factor } of dry salt.
supplies-target = Salt pools: { $target } g/kg.
supplies-margin = Spill margin: { $margin }.
supplies-bucket = Bucket: { $litres }.
supplies-source = Tap water: { $source } g/kg of salt.
supplies-mains-chlorine = Tap water: disinfected with chlorine.
supplies-mains-chloramine = Tap water: disinfected with chloramine, which standing for a day does not remove.
supplies-chloramine-leaves = { $most } mg/L of it, the most that any authority allows in drinking water ({ $who }), leaves up to { $freed } mg/L of ammonia as N once its chlorine is bound.
supplies-undone = supplies

# Who sets limits for drinking water.
authority-who = WHO
authority-us-epa = US EPA

# What is wrong with lines about water.
no-salinity-unreadable = “{ $text }” is no salinity; say it as 35, sg 1.025 25/25 or 53 mS/cm at 25C.
no-salinity-convention = A specific gravity of { $value } needs its two temperatures behind it, since it may be { $each }.
no-temperature-unreadable = “{ $text }” is no temperature; say it as 25C or 77F.
no-concentration-unreadable = “{ $text }” is no concentration; say it in mg/L, such as 80 or 0.5 mg/L.
no-concentration-mixed = “{ $one }” and “{ $other }” are not counted alike, and nitrogen (N) is not the ion; say all of them the same way, such as all in mg/L as N.
no-dilute-weekdays = Changes are counted days apart here; say every 2 days.
no-mix-into = “into” and “conditioned” go with an amount that is mixed, as in /mix 10 L salt 35 into Blue can; say the amount.
no-mix-with = “with” says what goes into a pool that stands, as in north salt from 30 to 35 with 40.
no-supplies-loose = “{ $word }” belongs to a conditioner's label; say all of it, as in conditioner "NAME" { $units ->
    [us] 5 mL per 10 gal
   *[other] 5 mL per 40 L
}.
no-supplies-label = A label says how much for how much water, as in conditioner "NAME" { $units ->
    [us] 5 mL per 10 gal
   *[other] 5 mL per 40 L
}.
no-supplies-measured = What was measured goes with what was mixed, as in salt measured 34.1 after { $units ->
    [us] 2.5 gal with 12 oz
   *[other] 10 L with 358 g
}.

supplies-no-target = Salt pools of { $target } g/kg are no sea; say { $low } to { $high } g/kg.
supplies-no-bucket = A bucket of { $litres } L is not one that a person carries; say 0.5 to { $most } L.
supplies-no-dose = { $dose } mL for { $litres } L is no label’s dose; read it again, such as 5 mL per 40 L.
