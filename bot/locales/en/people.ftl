### The people who share the work: what is set of each, and a helper's work that waits for a nod.

# A line that is not heard.

refuse-span-ended = Your span ended on { $ended }: ask { $keepers } for another one.
refuse-by-ended = { $who } shared the work from { $from } to { $to }; say when within those days it was, such as { $example }. Nothing was saved.
refuse-by-sitter = { $who } shares the work no longer; what they did a keeper or a regular logs for them. Nothing was saved.
refuse-with-self = { $who } cannot do it together with themselves; name somebody else. Nothing was saved.

# Another zone than the place's.

in-both-zones = { $yours } your time, { $there } there
round-in-your-time = { $there } ({ $yours } your time)

# Setting a person.

setup-carer-others = What is set of { $name } is a keeper's to set: ask { $keepers }.
setup-carer-keepers = For yourself you set zone, units, language, free, quiet, share, minutes and private; the rest is a keeper's: ask { $keepers }.
setup-span-end = A span needs its last day: say from DATE to DATE.
setup-span-keeper = A keeper has no span: a place could be left with nobody to answer for it.
setup-span-role = Only a sitter has a span; say role sitter with it.
setup-span-order = A span cannot end before it starts: { $from } to { $to }.
setup-span-over = { $to } is over already; a span ends today or later.
setup-span-ended = The span of { $name } ended on { $ended }; say from DATE to DATE with it, or always.
setup-nobody-able = Then nobody could do { $target }: { $duty }, which asks for { $asks }. Give someone else the skill first, with /carer set NAME skill or lifts.
skill-siphon = a siphon
skill-salt = mixing salt water
skill-lift = lifting { $most }
setup-span = { $name } shares the work from { $from } to { $to }, and is not let in after that.
setup-span-none = { $name } shares the work without an end.
setup-own-zone = Times are told to { $name } in { $zone }, with the place's beside them.
setup-own-zone-none = Times are told to { $name } in the place's zone.
setup-own-units-metric = Amounts are told to { $name } in litres, °C, centimetres and grams.
setup-own-units-us = Amounts are told to { $name } in US gallons, °F, inches, ounces and pounds.
setup-own-units-imperial = Amounts are told to { $name } in imperial gallons, °C, centimetres and grams.
setup-own-units-none = Amounts are told to { $name } in the place's units.
setup-own-language = { $name } is answered in English.
setup-free = { $name } is there: { $when }.
setup-free-any = { $name } is there on any day, in any round.
setup-own-quiet = From { $from } to { $to } only danger calls { $name }.
setup-own-quiet-none = { $name } has no quiet hours of their own.
setup-skills = { $name } can do: { $can }.
skills-all = everything
skills-none = what needs neither siphon nor salt
skill-word-siphon = siphon
skill-word-salt = salt
skills-lift = lifts { $most }
setup-skill-tried = Before that { $name } did { $turns ->
    [one] 1 turn that asks for { $skill }
   *[other] { $turns } turns that ask for { $skill }
} together with someone.
setup-skill-untried = No turn that asks for { $skill } was logged as done by { $name } together with someone; it is granted all the same. One is logged as /did … with NAME.
setup-share = { $name } wants a share of { $share }, where 1 is an even one.
setup-share-none = { $name } wants no share of the turns.
setup-minutes = { $name } is given at most { $minutes } min a day.
setup-minutes-any = { $name } is given turns without a limit of minutes.
setup-private = { $name } is reminded alone.
setup-private-no = { $name } is reminded before everyone.

# Lists.

setup-head-share = Share
setup-head-can = Can do
setup-head-free = When there
carer-role-span = { $role }, { $from } to { $to }
carer-ended = { $name } was sitter until { $ended }; /carer set brings them back.
carer-title = { $name }: { $role }.
carer-habit = By habit: { $enclosures }.
weekday-short-1 = Mon
weekday-short-2 = Tue
weekday-short-3 = Wed
weekday-short-4 = Thu
weekday-short-5 = Fri
weekday-short-6 = Sat
weekday-short-7 = Sun

# Done together.

receipt-together = { $what }{ $part }, { $at }, by { $who } with { $with }.

# What waits for a nod.

press-nod = Nod
press-not-done = Not done
receipt-waits = Waits for a nod; it counts from then once an adult nods.
nod-waits-already = { $what } waits for a nod already, done { $at } by { $who }. Not logged again. If it was done twice, add “again”.
nod-title = { $count ->
    [0] Nothing waits for a nod.
    [one] 1 turn waits for a nod:
   *[other] { $count } turns wait for a nod:
}
nod-line = { $what }, done { $at } by { $who }
nod-already = { $who } nodded at it already.
nod-not-done = Not done, says { $who }: { $what }. It is taken back, and the turn stays open.
refuse-nod-none = No { $duty } of that waits for a nod; /nod alone shows what does. Nothing was saved.
nod-receipt = { $who } nodded.
nod-undone = a nod
nod-marked = { $duty }: waits for an adult's nod when a helper did it.
nod-unmarked = { $duty }: counts at once, whoever did it.
nod-marked-already = The { $duty } waits for a nod already.
nod-unmarked-already = The { $duty } waits for no nod.
nod-duties = Waits for an adult's nod when a helper did it: { $duties }.
called-waits = , done { $at } by { $who }, waits for a nod
