# The nitrogen cycle of a filter: how far it is, what its proof lacks, and what its water holds.

cycle-title = { $pool }, the filter's cycle: { $stage }.
cycle-not-started = not started
cycle-ammonia-up = ammonia up, not proven
cycle-nitrite-up = nitrite up, not proven
cycle-nitrate-up = nitrate up, not proven
cycle-finished = proven since { $at }
cycle-again = to be proven again
cycle-anew = to be begun anew, never proven
cycle-short = { $title } { $more }

# Why.
cycle-why-nothing-fed = No ammonia is known to have gone in.
cycle-why-zeros = Ammonia and nitrite are at 0, but no ammonia is known to have gone in: 0/0/0 without input proves nothing.
cycle-why-fed-only = Ammonia went in { $at }; nothing was tested since.
cycle-why-fed-only-crabs = The crabs leave ammonia; nothing was tested since.
cycle-why-nothing-found = Ammonia went in { $at }; no test has found ammonia, nitrite or more nitrate since.
cycle-why-nothing-found-crabs = The crabs leave ammonia, how much is not known; no test has found ammonia, nitrite or more nitrate.
cycle-why-ammonia = A test found ammonia, { $at }.
cycle-why-ammonia-gone = Ammonia was found, and is at 0 now.
cycle-why-nitrite = A test found nitrite, { $at }.
cycle-why-nitrite-falls = Nitrite falls.
cycle-why-nitrite-gone = Nitrite was found, and is at 0 now.
cycle-why-nitrate = Nitrate is above that of the tap water, { $at }.
cycle-why-proof = Two tests prove it: { $first } and { $second }.
cycle-why-word = By a keeper's word of { $at }.
cycle-why-stood = It stood still for { $hours } h from { $from }: what it had before no longer counts.
cycle-why-quiet = No ammonia is known to have gone in since { $since }, { $days } days: what it had before no longer counts.
cycle-why-back = A test found ammonia or nitrite again, { $at }: what it had proven no longer counts.

# What is missing.
cycle-missing = Missing for its proof: { $what }.
cycle-missing-feed = ammonia that is known to go in
cycle-missing-ammonia = a test of ammonia
cycle-missing-nitrite = a test of nitrite
cycle-missing-nitrate = a test of nitrate after ammonia went in
cycle-missing-source = nitrate of the tap water
cycle-missing-nitrate-above = nitrate above that of the tap water
cycle-missing-first = a test with ammonia and nitrite at 0
cycle-missing-second = a second test at 0, which can be made now
cycle-missing-second-wait = a second test at 0, in { $hours } h or later
cycle-missing-running = that the filter runs
cycle-say-feed = Log what goes in: /read { $spot } dosed ammonia 2 mg/L. 2 to 3 mg/L is the practice of fish keepers; none is published for land hermit crabs.
cycle-dose-counts = One dose proves nothing after { $days } days without another: dose again before that, until both tests are done (common practice).
cycle-say-tap = Log the tap water: /read { $spot } tap nitrate 5 mg/L.

# How long.
cycle-left = Expected: { $low } to { $high } days more{ $from ->
    [feed] , counted from when ammonia goes in
   *[now] {""}
}.
cycle-left-now = The second test decides.
cycle-left-second = The second test decides, in { $hours } h or later.
cycle-left-overdue = It has taken longer than is typical; how long still cannot be told.
cycle-left-basis = 3 to 6 weeks are typical, from threads of fish keepers (seen){ $warm ->
    [none] ; the water's temperature is not known
   *[other] , brought to { $warm } (common practice)
}.

# What is odd.
cycle-note-aside = A test of { $at } does not count: the filter stood still then.
cycle-note-differ = Two tests of { $at } differ; the worse one counts.
cycle-note-unknown = A test found ammonia, { $at }, before any was known to have gone in.
cycle-note-no-nitrate = Ammonia or nitrite went, and nitrate did not come: a change of water, a test gone wrong, or something that takes nitrate up.
cycle-note-dose = How much ammonia went in last is not known, so zeros soon after say little.
cycle-note-source = The nitrate test of { $at } stands for the tap water.
cycle-note-rinse = It has stood still for { $hours } h: rinse its media in pool water before it runs.
cycle-rule = The rule, common practice, no published source: two tests at least { $apart } h apart after ammonia went in, ammonia and nitrite both 0 (kits are taken to tell { $step } mg/L), nitrate above that of the tap water. It lapses after { $stood } h without flow or { $quiet } days without ammonia.

# A pool that cycles.
cycle-closed = { $pools } { $count ->
    [one] is cycling: closed
   *[other] are cycling: closed
} to the crabs until the filter's cycle is proven and the pool is set in use.
cycle-closed-proven = { $pool } is closed to the crabs still, and its filter's cycle is proven: a keeper opens it with /pool set { $spot } life in use.

# Ammonia in the water.
ammonia-now = Un-ionised ammonia { $free } mg/L as NH3: { $share } % of { $reading }, read { $at }, at { $conditions }.
ammonia-assumed = { $salinity } (assumed)
ammonia-danger = That is above { $limit } mg/L, which fish keeping takes for the most that is borne for long (from memory); no limit for land hermit crabs is published. Change water now, treated: /how change { $spot }. A conditioner that binds ammonia can disturb the test (common practice).
ammonia-closed = That is above { $limit } mg/L, which fish keeping takes for the most that is borne for long (from memory); no limit for land hermit crabs is published. The pool is closed to the crabs, and its filter needs this ammonia: keep them out of it. A conditioner that binds ammonia can disturb the test (common practice).
ammonia-calm = Fish keeping takes { $limit } mg/L for the most that is borne for long (from memory); no limit for land hermit crabs is published.
ammonia-beyond = { $value }{ $unit } lies outside the range { $low } to { $high }{ $unit } that the formula was published for.
ammonia-unknown = How much of { $reading } is un-ionised needs pH and temperature: /read { $spot } { $sample }
