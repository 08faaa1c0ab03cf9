### What a replay reports after its days.

report-title = { $days ->
    [one] 1 day, from { $from }
   *[other] { $days } days, from { $from } to { $to }
}: how the work was shared
report-head-who = Who
report-head-minutes = Minutes
report-head-share = Wanted
report-head-part = Part
report-head-load = Load ÷ share
report-head-turns = Turns
report-head-late = Late
report-share-none = none
report-share-left = left
report-explained = Minutes: what each did. Wanted: their share, 1 being an even one. Part: the minutes that were theirs by it, of what was done while they were there. Load ÷ share: minutes by part. Late: the share of their turns that nobody had done when their grace ended, those included that were never done because the next one came.
report-even = Jain's index of load ÷ share: { $index } over all { $days } days, 1 being fully even.
report-even-last = Over the last four weeks: { $index }.
report-bound = Gap to the optimum (by a bound): no sharing of the same work, in fractions of turns even, among those who were there and able could have exceeded { $most }, so at most { $gap } was left.
report-bound-last = Over the last four weeks: { $most }, so at most { $gap }.
report-gap = Gap to the optimum (exact): turns were shared out { $shared ->
    [one] once
   *[other] { $shared } times
}; { $tried } of these had at most { $most } ways to do it, and all were tried. { $best } of them were the best there was{ $worse ->
    [0] .
    [one] , 1 worse by { $worst } min, in the measure by which turns are shared out.
   *[other] , { $worse } worse by { $worst } min at most, { $mean } min on average, in the measure by which turns are shared out.
}{ $left ->
    [0] {""}
   *[other] {" "}{ $left } left more turns with nobody than need be.
}
report-gap-none = Gap to the optimum (exact): turns were shared out { $shared ->
    [one] once
   *[other] { $shared } times
}, never in so few as { $most } ways, so the best was not looked for.
report-unowned = Turns that nobody had when they fell due: { $count }.
report-hazards = Turns that were a hazard before they were done: { $count }.
