### Prepared water, where it went, and doses of conditioner.

# Pieces.

batch-vessel = a vessel
batch-amount = { $amount } of { $water } water
batch-use-by = use by { $date }
batch-off = not what the salt pools are to hold
batch-set-aside = set aside as wrong
batch-past = past its date
batch-unconditioned = not conditioned
batch-unmeasured = not measured

# Receipts. Two weeks are what prepared water keeps by common practice.

batch-made = { $vessel }: { $amount }{ $salt }. Use by { $date } (two weeks: common practice).
batch-now = { $vessel }: { $amount }{ $salt }. Use by { $date }.
batch-wants = Before it is used: { $what }.
batch-retired = { $vessel }: { $amount } poured away.
batch-gone = That batch was taken back; say /batch list for what there is.

# The list.

batch-none = There is no prepared water.
batch-list = Use first: { $what }.
batch-first = { $vessel }, { $amount }
batch-list-unready = No prepared water is ready to be used.
batch-line = { $vessel }: { $parts }

# Refusals.

batch-salt-unsaid = How salty is it? Say salt 35, or what was read, as in /batch add "{ $vessel }" 20 L salt sg 1.0264 25/25. Nothing was saved.
batch-salt-unreadable = No water between fresh and 60 g/kg reads like that; measure it again. Nothing was saved.
batch-salt-in-fresh = Water of { $salt } is not fresh; say salt. Nothing was saved.
batch-no-salt = Salt water without salt is fresh; say fresh. Nothing was saved.
batch-vessel-full = { $vessel } still holds { $amount } of { $water } water; if that was poured away, say /batch retire { $vessel } first. Nothing was saved.

# An entry in a few words, when it is taken back.

batch-change-made = made
batch-change-measured = measured
batch-change-conditioned = conditioned
batch-change-use-by = use-by date
batch-change-wrong = set aside
batch-change-retired = poured away

# What is at hand before more is mixed.

offer-prepared = Prepared { $water } water is at hand: { $parts }.
offer-part = { $amount } in { $vessel }, use by { $date }
offer-part-unmeasured = { $amount } in { $vessel }, to be measured first, use by { $date }
offer-short = { $amount } are to be mixed beside it.
offer-condition-first = { $vessel } holds { $amount } that would do once it is conditioned.

offer-was-it = If the water came from there, take this back and say it again with from and the vessel.

# Drawn by a duty.

draw-left = { $vessel }: { $amount } left.
draw-past = { $vessel } was past its date, { $date }.
draw-unmeasured = { $vessel } was never measured: read the pool now, with /read, the pool and what it shows.
draw-condemned = { $vessel } had been set aside as wrong: /trail { $vessel } shows where it went.
draw-off = { $vessel } held { $salt }, and the salt pools are to hold { $target }: read the pool now.
draw-salt-in-fresh = First: change all of { $pools } for fresh treated water, and see that the crabs reach another fresh pool meanwhile. Salt water went in.
draw-untreated = First: keep the crabs out, then conditioner by its label into { $pools }. { $vessel } was not conditioned.
draw-no-water = Water from a batch goes with a change or a top-up, not with { $duty }. Nothing was saved.
draw-how-much = How much went into { $target }? Say an amount, such as amount { $units ->
    [us] 16 fl oz
   *[other] 500 mL
}. Nothing was saved.
draw-made-later = { $vessel } was made only { $at }. Nothing was saved.
draw-too-much = { $vessel } holds { $amount }, and { $wanted } are asked of it; say the amount that came from it. Nothing was saved.
draw-other-water = { $vessel } holds { $water } water, which is not for { $target }; if it went in all the same, add “again”. Nothing was saved.
draw-salt-top-up = { $vessel } holds { $water } water, and { $target } is topped up with fresh water, since its salt stays when water evaporates; if it went in all the same, add “again”. Nothing was saved.

# The trail of a batch.

trail-nowhere = { $vessel } reached no pool.
trail-where = { $vessel } went into { $pools }.
trail-saved = That { $vessel } was wrong is saved by this line, and can be taken back.
trail-set-aside = { $vessel } is set aside as wrong from now on: this line was saved, and can be taken back.
trail-share = { $target }: { $percent } % of its water now; { $went }.
trail-went = { $amount } went in, the first { $since }
trail-gone = { $target }: none of it is left; some went in { $since }, and all water was changed since.
trail-pool-dose = { $target } ({ $amount }: { $dose })
trail-pool = { $target } ({ $amount })
trail-condition-first = First: keep the crabs out, then conditioner by its label into { $pools }. { $vessel } went in untreated.
trail-nothing-to-do = Nothing is to be done: { $vessel } reached { $pools }, and no correction is needed.
trail-mend-one = { $target }: { $fix }, by at most { $step } g/kg a day. { $vessel } reached it.
trail-mend-several = { $pools } are to be put right, as below. { $vessel } reached them.
trail-reached-before = It went into pools before it was measured:
trail-chlorine = { $target }: at most { $now } mg/L of chlorine now, { $percent } % of its water; { $went }.
trail-conditioned-since = The pool itself was conditioned after that, { $at }.
trail-salinity = { $target }: { $now } now, believed to be { $believed }; { $went }. Correction: { $fix }.
trail-cannot = The journal's figures for { $vessel } do not add up with that; check the amounts that were logged.
trail-rests-limit = Computed as if the tap water held { $most } mg/L, the most that any authority allows ({ $who }), and as if none had left since. Chloramine does not leave by standing. What was read is better: /trail, the vessel and chlorine 1.5 mg/L.
trail-rests-said = Computed as if none of the chlorine had left since. Chloramine does not leave by standing.
trail-rests = Computed from the litres that were logged, each pool well mixed. Correct by at most { $step } g/kg a day (common practice), and read the pool after each.
trail-rests-beyond = Computed from the litres that were logged, each pool well mixed, and beyond the range for which the formula is published. Correct by at most { $step } g/kg a day (common practice), and read the pool after each.
trail-vessel = { $vessel } holds { $amount }.
trail-vessel-empty = { $vessel } is empty.
trail-vessel-conditioned = { $vessel } holds { $amount }, conditioned since: it may be used.
trail-vessel-untreated = { $vessel } holds { $amount }: use none before it is conditioned by its label and that is said, /batch set { $vessel } conditioned.
trail-vessel-salt = { $vessel } holds { $amount }: use none before it is put right, measured and that is said, /batch set { $vessel } and the reading.
trail-vessel-salted = { $vessel } holds { $amount }: pour it away, and say /batch retire { $vessel }.
fix-nothing = none needed
fix-condition = conditioner for { $amount }, by its label
fix-condition-dose = { $ml } mL of conditioner
fix-change = change { $amount } ({ $percent } %) for conditioned fresh water
fix-salt = { $mass } of dry salt, dissolved first in some of its water
fix-salt-product = { $mass } of this place’s salt, dissolved first in some of its water

# Doses of conditioner.

dose-ml = { $ml } mL
dose-too-much = { $amount } is no dose of conditioner for { $all }; say what went in of the bottle, such as amount 2 mL. Nothing was saved.
doses-total = { $count ->
    [one] 1 dose
   *[other] { $count } doses
}, { $amount }
doses-unsaid = { $count ->
    [one] 1 dose
   *[other] { $count } doses
}
doses-partly-said = { $count } doses, { $amount } said of { $said ->
    [one] 1 of them
   *[other] { $said } of them
}
doses-would-be = { $target } had { $had } within { $span }; with this one it would be { $with }.
doses-over = { $target } has had { $ml } mL, { $times } times the label’s { $label } mL: give no more, and watch that the crabs keep the other pool.
doses-are = { $target } has had { $had } within { $span }. Hold that against the label, and give no more in that time.
