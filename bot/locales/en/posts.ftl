### What is posted.

round-named = { $name } round
round-at = Round at { $time }
round-gone = A round
round-title = { $round }, { $date } · { $open ->
    [0] all done
    [one] 1 turn
   *[other] { $open } turns
}
round-late = Called late: its time was { $at }. This is how things stand now.
late-anyone = Anyone
late-title = { $open ->
    [0] Late turns: all done
    [one] { $who }: 1 turn waits, { $names }
   *[other] { $who }: { $open } turns wait, { $names }
}
duty-part-of = { $duty }, { $litres } of { $all }
called-open = { $number } · { $target }: { $duty } · { $who }
called-done = { $number } · { $target }: { $duty } · done { $at }, { $who }
called-not-needed = { $number } · { $target }: { $duty } · not needed, { $who } { $at }
called-gone = { $number } · { $target }: { $duty } · no longer asked for
called-overdue = {" "}· late since { $at }
called-hazard = {" "}· at risk since { $at }
passed-on = {" "}· passed on to { $who }
passed-on-to-all = {" "}· { $who } and everyone: whoever can, now
press-all = All done
press-all-but = All but…
ask-all-but = All but which? Their numbers, such as 2 or 2 3
ask-reading = What does it read? Such as 82% 26.5C
ask-test = What did the test say? Such as ammonia 0 nitrite 0 nitrate 10
ask-reason = Why is it not needed?
quiet-zone = Quiet zone in { $enclosure }, { $spot }: a crab moults there until { $until }. Dig, lift and scrub nothing on that side.
press-looked = Looked: still open
press-noted = I see it
press-going = I'm going
press-wrong = It's wrong
alarm-seen = { $what }: { $target }. Seen by { $who }, { $at }
alarm-seen-urgent = Urgent, { $what } near a quiet zone: { $target }. Seen by { $who }, { $at }
alarm-private = Told to the keepers in private, and to nobody else.
alarm-looked = { $who } looked { $at }: still open.
alarm-untreated = Untreated water in a pool with crabs: logged by { $who }, { $at }
alarm-untreated-first = First: keep the crabs out, then conditioner by its label into { $pools }. Then say /did condition and the pool.
alarm-untreated-over = Conditioned since, or all of it changed.
alarm-note = Note: { $note }
alarm-taken-back = Taken back: it was wrong.
alarm-again = Seen again { $at } by { $who }.
alarm-noted = { $who } has seen this.
alarm-going = { $who } goes to look.
alarm-closed = Over since { $at }, says { $who }.
alarm-high = { $enclosure }: humidity above 85 % for { $hours } hours (now { $latest }, limit { $limit } h)
alarm-low = { $enclosure }: humidity below 70 % for { $hours } hours (now { $latest }, limit { $limit } h)
alarm-spell-gone = { $enclosure }: the humidity alarm was taken back; its readings were wrong.
likely-air = Most likely the air in { $pool }, added { $at }.
first-high = First: turn an air stone's valve down until the surface barely moves, and lift the lid's corner for an hour. If the substrate is wet at the glass, say /saw wet substrate and where.
first-low = First: close the lid and the gaps, and see that both pools are full. Gills dry: this is the quicker danger.
caution-mains = Mains beside water: switch off at the wall before hands go in. Local codes and licensed people come first.
caution-vet = A sick or injured crab is for a veterinarian who treats exotic animals.
settled-seen = Settled: { $target }, { $what }. Closed by { $who }, { $at }.
settled-spell = Settled: { $enclosure } is back at { $latest }. The spell began { $since }.

# Looks at open matters.

look-named = { $target }: { $what }
look-named-urgent = Urgent, near a quiet zone · { $target }: { $what }
look-line = { $matter }, look again · { $who } · { $when }
look-called = { $matter }, look again · { $who }
look-looked = { $matter } · looked at { $at }, { $who }: still open; again { $next }
look-again = { $matter } · seen again { $at }, { $who }; look again { $next }
look-closed = { $matter } · over since { $at }, { $who }
look-gone = A matter that was taken back
look-rule-first = { $span } after it was seen
look-rule-every = every { $span }
look-rule-evening = at { $time }, when crabs walk about
look-rule-round = at every round
why-look = { $matter }. Seen { $at } by { $who }, entry { $entry }. { $again }{ $looked }Look again { $due }, late from { $overdue }: { $rule }, whichever comes first (common practice).
why-again = Seen again { $at } by { $who }.{" "}
why-looked = Looked at { $at } by { $who }.{" "}
post-wanted = { $who } { $count ->
    [one] is
   *[other] are
} wanted: see /due.

# On a message of the group-chat platform.
post-more = … and more: /due lists all of it.
photo-with = With a photo, entry { $seq }.
menu-done = Done: which turn?
menu-other = Another answer

# To a keeper, in private, when their channel takes no posts. The channel's name follows.
trouble-gone = The channel of your place is gone, so rounds and alarms are not posted. Choose another with /place link:
trouble-hidden = I cannot see the channel of your place, so rounds and alarms are not posted. Give me View Channel and Send Messages there, or choose another with /place link:
trouble-mute = I may not write in the channel of your place, so rounds and alarms are not posted. Give me Send Messages there, or choose another with /place link:

# When a server gets its place, or cannot.
link-greeting = Rounds, alarms and weeks of this place are posted here from now on.
refuse-link-channel = Name a text channel of this server, as in /place link #pools.
refuse-link-later = The channel does not answer now; nothing was linked, try again in a minute.
refuse-link-gone = That channel is gone; nothing was linked, name another.
refuse-link-hidden = I cannot see that channel; give me View Channel and Send Messages there, then say it again.
refuse-link-mute = I may not write in that channel; give me Send Messages there, then say it again.
refuse-link-kind = That channel takes no messages of mine; name a text channel.
refuse-native = That line is of another version; type / again and choose it from the list.
refuse-no-server = Lines are said on the server of your place, not in private.

# Below /due.
due-trouble = The place's channel takes no posts at present: a keeper may put that right, or choose another with /place link.
refuse-photo-fetch = The photo could not be fetched; nothing was saved, send it again.
