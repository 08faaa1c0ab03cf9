# Cards for emergencies. Of each: the first line, enough for wet hands; what protects people; the animals; the rest; what to
# log. What is known of this place stands between.

emergency-list = Say which: { $cards }.
emergency-list-first = People first: no hand into water or onto wet plugs before the circuit is off. Then the animals.
emergency-item = /emergency { $card } – { $what }

emergency-first-flood = Flood: stay out of the water until the circuit is off at the panel, from a dry place.
emergency-first-power-cut = Power cut: unplug heater, pump and filter, close the lids, wrap the enclosure warm.
emergency-first-untreated-water = Untreated water: keep the crabs out of that pool, then treat or replace all of its water.
emergency-first-too-much-salt = Too much salt: offer fresh treated water at once, then swap part of the pool for it.
emergency-first-humid-spell = Long humid spell: turn the air in the pools down and lift the lid's corner for an hour.
emergency-first-leak = Leak: circuit off from a dry place, then stop the water and empty the container.

emergency-people-flood = People: never reach into water with a plug, heater or pump in it, and touch no wet plug. Switch the circuit off at the panel, standing dry. A residual-current device that has tripped stays off. Wet floor is slippery; wet glass cuts; full tubs are lifted by two. Local codes and licensed people come first: where water has reached outlets or the panel, a licensed electrician decides.
emergency-people-power-cut = People: unplug from a dry place before hands go into water, since the power may come back at any moment. No candles, grills, camping stoves or generators in the room or near a lid: fire and carbon monoxide. Local codes and licensed people come first.
emergency-people-untreated-water = People: conditioner and chlorine products are kept apart, never mixed, and rinsed off skin. Unplug heater, pump and filter before hands go into the pool.
emergency-people-too-much-salt = People: unplug heater, pump and filter before hands go into the pool; salt water conducts well. Carry in small buckets.
emergency-people-humid-spell = People: wipe water off plugs only with the circuit off from a dry place; drip loops below each outlet, behind a residual-current device. Local codes and licensed people come first.
emergency-people-leak = People: circuit off at the panel from a dry place before a hand goes near the water; a residual-current device that has tripped stays off. Cracked glass can burst: no weight on it, gloves, and never lift a filled or cracked tank. Local codes and licensed people come first.

emergency-animals-flood = Animals: crabs out of standing water into a container of their own with a lid, damp substrate, shells, and both treated waters in shallow dishes, as warm and humid as before. Dig for moulters only where the water stands over them, with clean damp substrate round each. A limp or injured crab goes to a veterinarian who treats exotic animals.
emergency-animals-power-cut = Animals: keep the lid shut and the room closed; blankets round the glass, air gaps left. Closed bottles of warm water, wrapped, inside or against the glass, never hot. Moulters stay where they are: do not dig. A limp crab goes to a veterinarian who treats exotic animals.
emergency-animals-untreated-water = Animals: set out fresh treated water of the enclosure's temperature, and bathe nobody by force. Chlorine and chloramine harm gills. Where the pool cannot be cleared at once, a container of their own with damp substrate and treated water. A limp crab goes to a veterinarian who treats exotic animals.
emergency-animals-too-much-salt = Animals: a dish of fresh treated water of the enclosure's temperature is in reach at once; crabs carry water in their shells and even it out themselves (common practice). A limp crab goes to a veterinarian who treats exotic animals.
emergency-animals-humid-spell = Animals: a spike is no harm; a long spell wets the substrate, floods burrows and lets bacteria bloom. Leave moulters alone unless water stands over them. Low humidity dries gills sooner: do not fall under 75 %. A limp crab goes to a veterinarian who treats exotic animals.
emergency-animals-leak = Animals: crabs out of the way of the water, into a container of their own with damp substrate and both treated waters if the enclosure has to be emptied. Moulters are moved only where the water stands over them. An injured crab goes to a veterinarian who treats exotic animals.

emergency-rest-flood = Then: find where the water comes from. Soaked substrate comes out from the sides, quiet zones last; what smells of rot goes. Gear starts only dry and looked at. A filter that stood for more than { $rinse } h is rinsed in pool water, and after { $stood } h it must prove itself again (common practice).
emergency-rest-power-cut = Then: log when the filter stopped, /gear stop SPOT filter. After more than { $rinse } h without flow its media are rinsed in pool water before it runs; after { $stood } h its bacteria do not count any more and it must prove itself again (common practice). Lift the pump above the water or close the valve, so that no water runs back. Plug in one after the other, heater last.
emergency-rest-untreated-water = Then: change all the water for treated water of the same temperature, or dose the conditioner by its label for the whole pool at once. Chloramine does not leave by standing, and what binds its chlorine leaves ammonia: test a filtered pool, and again next day. Tap water is allowed { $limits }; limits for people who drink it, none is published for land hermit crabs.
emergency-rest-too-much-salt = Then: by at most { $step } g/kg a day (common practice), with fresh treated water of its temperature; measure after each step. A pool that is low has not got more salt but less water: top it up with fresh water first.
emergency-rest-humid-spell = Then: see whether an air stone came loose or a pool splashes; smaller or shallower pools, less air, a gap at the lid. Wipe what drips, take soaked substrate out. Room air that is dry helps; a cold room sweats the glass.
emergency-rest-leak = Then: lift the inner container out if there is one; towels at the edge of the substrate, soaked substrate out. The filter's media stay wet in pool water: after more than { $rinse } h without flow they are rinsed in it, after { $stood } h the filter must prove itself again (common practice). A container that leaked is tested full outside the enclosure for a day before it comes back.

emergency-keepers-log = What begins with /gear or /pool a keeper logs: tell { $keepers } when it stopped.
emergency-log-flood = Log: /saw leak SPOT, /saw wet substrate SPOT, /gear stop SPOT filter.
emergency-log-power-cut = Log: /gear stop SPOT filter, /gear stop SPOT air, /read SPOT { $sample }; when it is back /gear start SPOT filter.
emergency-log-untreated-water = Log: /did change SPOT, or /did condition SPOT note untreated water; /read SPOT ammonia 0 mg/L; /saw trouble SPOT for a crab in trouble.
emergency-log-too-much-salt = Log: /read SPOT sg 1.0260 25/25, /did part change SPOT amount VOLUME, then read again.
emergency-log-humid-spell = Log: /read SPOT { $sample }, /saw condensation SPOT, /saw wet substrate SPOT.
emergency-log-leak = Log: /saw leak SPOT, /gear stop SPOT filter, /pool set SPOT life out of use.

# What is known of this place.
emergency-cools = { $name }: { $floor } in about { $likely } h ({ $low } to { $high } h), from { $from }{ $read ->
    [yes] {""}
   *[no] {" "}(assumed)
}.
emergency-cools-first = { $name } cools first: { $floor } in about { $likely } h ({ $low } to { $high } h), from { $from }{ $read ->
    [yes] {""}
   *[no] {" "}(assumed)
}.
emergency-cold = { $name } is at { $from } already, under { $floor }: warm it first.
emergency-cools-rests = Computed for a room of { $room } ({ $stated ->
    [yes] its colder air as this place told it
   *[no] common practice
}), a single pane, a box of its volume with a third of substrate; not checked against a measured enclosure. The order is surer than the hours.
emergency-filters = Filters that stop: { $pools }.
emergency-airs = Air that stops: { $pools }.
emergency-no-gear = No filter and no air is logged here.
emergency-at-stake = Water at stake: { $pools }.
emergency-at-stake-pool = { $pool } { $litres }
emergency-treat-label = { $pool } holds { $litres }: conditioner, { $dose } by the label this place entered.
emergency-treat = { $pool } holds { $litres }: conditioner by its label for that much.
emergency-limit = { $most } mg/L { $what } ({ $who })
emergency-chlorine = chlorine
emergency-chloramine = chloramine
emergency-swap = { $pool }: { $now } g/kg, read { $at }. Swap { $out } of { $litres } in all for fresh treated water, and it comes to { $target } g/kg.
emergency-salty-not = { $pool }: { $now } g/kg, read { $at }: no more than the { $target } g/kg of common practice.
emergency-salty-unread = { $pool }: not read yet; read it first, as /read { $spot } sg 1.0260 25/25.
emergency-salt-none = No salt pool is logged here.
emergency-spell = { $name }: over { $limit } % since { $from }, { $hours } h, now { $latest }.
emergency-spell-none = No reading here tells of an open spell over { $limit } %.
emergency-spell-alarm = It counts as a danger from { $hours } h on (common practice).
