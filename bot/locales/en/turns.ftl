### Whose turn, when; and what people say to change it.

# Pieces.
turn-named = { $target }: { $duty }, { $when }
turn-round = { $date }, { $round }
turn-offered = {" "}· offered to { $who } until { $until }
turn-uncovered = { $turn } · { $why }
gap-nobody = nobody is there then
gap-no-time = whoever is there has no time left that day
gap-no-share = nobody who is there and can do it wants a share
gap-unskilled = it asks for { $what }, granted to nobody who is there
open-freed = { $who } can't; free for anyone
press-decline = Not for me
press-away = Yes, away
press-leave = Leave it
typed-sure = the same line with “sure” at its end
left-receipt = Left as it is. Nothing was changed.
said-undone = Taken back.

# Whose turn.
turns-everyone = Everyone
turns-days = { $from } to { $to }
turns-title = { $who }: { $count ->
    [0] no turn
    [one] 1 turn, { $minutes } min
   *[other] { $count } turns, { $minutes } min
}, { $days }
turns-open = Nobody has these:
turns-offered = Offered to you:
turns-offers = On offer, with its owner until it is taken:
turn-on-offer = { $turn } · offered to { $to } by { $by }, until { $until }
turn-offered-to-you = { $turn } · by { $by }, until { $until }
turns-day = { $date } · { $minutes } min
turns-line = { $round } · { $what } · { $who } · { $minutes } min
turns-own-line = { $round } · { $what } · { $minutes } min
turns-behind-late = Turns behind a late one are told as if that were done now; a calendar keeps them where they were planned until it is done.
turns-dated = { $when } · { $what } · { $who } · { $minutes } min

# Absences.
away-now = now
away-span = from { $from } to { $to }
away-rounds = on { $rounds }
away-midnight = midnight
away-day = on { $date }
away-hours = on { $date }, { $from } to { $to }
away-moves = { $moved ->
    [0] { $uncovered ->
        [0] no turn moves
        [one] 1 turn is left with nobody
       *[other] { $uncovered } turns are left with nobody
    }
    [one] { $uncovered ->
        [0] 1 turn moves
        [one] 1 turn moves, 1 is left with nobody
       *[other] 1 turn moves, { $uncovered } are left with nobody
    }
   *[other] { $uncovered ->
        [0] { $moved } turns move
        [one] { $moved } turns move, 1 is left with nobody
       *[other] { $moved } turns move, { $uncovered } are left with nobody
    }
}
away-moved = { $moved ->
    [0] { $uncovered ->
        [0] no turn moved
        [one] 1 turn is left with nobody
       *[other] { $uncovered } turns are left with nobody
    }
    [one] { $uncovered ->
        [0] 1 turn moved
        [one] 1 turn moved, 1 is left with nobody
       *[other] 1 turn moved, { $uncovered } are left with nobody
    }
   *[other] { $uncovered ->
        [0] { $moved } turns moved
        [one] { $moved } turns moved, 1 is left with nobody
       *[other] { $moved } turns moved, { $uncovered } are left with nobody
    }
}
away-preview = { $who } away { $when }: { $moves }. Not saved yet.
away-changed = Turns would go otherwise by now than you saw; this is how they would go.
away-declined = What was offered to { $who } then is turned down with it: { $turns }.
away-made = { $who } is away { $when }: { $moves }.
away-there-again = There again for { $round }.
away-open-round = { $when }: { $what }
away-open-duty = { $duty } of { $places }: { $count ->
    [one] 1 turn, { $first }
   *[other] { $count } turns, { $first } to { $last }
}
away-uncovered = Left with nobody; { $keepers } is told at once:
away-others = { $moved ->
    [0] No turn of anybody else moves.
   *[other] Of the turns of others { $moved } of { $all } move too.
}
away-horizon = Turns after { $date } are shared out when they come near.
away-say-sure = To save it, say the line again with “sure” at its end.
away-back = { $who } is there again from now on. Turns that went to others stay with them{ $count ->
    [0] .
    [one] ; 1 that nobody had is taken up:
   *[other] ; { $count } that nobody had are taken up:
}
away-later = { $when } (entry { $entry })
away-still = Still away later: { $all }; /undo { $entry } takes { $count ->
    [one] that
   *[other] the first of them
} back.
away-list = { $count ->
    [0] Nobody is away or about to be.
    [one] 1 absence
   *[other] { $count } absences
}
away-list-line = { $who }: away { $when } · entry { $entry }
refuse-away-others = You say when you are away yourself; for others a keeper does: ask { $keepers }. Nothing was saved.
refuse-away-ends = That absence ends before it starts; say from the earlier day to the later one. Nothing was saved.
refuse-away-past = That lies in the past; say days from today on. Nothing was saved.
refuse-away-long = An absence is at most { $days } days long; who stays away longer is ended with /carer retire. Nothing was saved.
refuse-away-already = { $who } is away then already; /away list shows it. Nothing was saved.
refuse-away-later = { $who } is not away now, only later: { $all }; /undo { $entry } takes { $count ->
    [one] that
   *[other] the first of them
} back. Nothing was saved.
refuse-away-not = { $who } is not away, nor about to be. Nothing was saved.

# A turn from hand to hand.
offer-receipt = { $turn } · offered to { $who } until { $until }; yours until then.
offer-receipt-instead = { $turn } · it was offered to { $before }; now it is offered to { $who } until { $until }; yours until then.
refuse-offer-not-yours = { $turn } is not yours but { $who }'s: offer one of your own. Nothing was saved.
refuse-offer-nobodys = Nobody has { $turn }; whoever can says /take. Nothing was saved.
refuse-offer-yourself = It is yours already: offer it to somebody else. Nothing was saved.
refuse-offer-stands = { $turn } is offered to { $who } already. Nothing was saved.
refuse-offer-over = The offer of { $turn } stands no longer; it is with { $who }. Nothing was saved.
refuse-offer-other = { $turn } is offered to { $who }, who answers. Nothing was saved.
refuse-offer-none = No turn is offered to you now. Nothing was saved.
refuse-offer-none-of-it = { $turn } is offered to nobody now. Nothing was saved.
refuse-offer-which = Which one, { $names }? Say it behind /offer no. Nothing was saved.
decline-receipt = { $turn } · not for { $who }; { $owner } keeps it.
take-preview = { $turn } is { $who }'s, { $minutes } min. Taken by you it moves, and { $moved ->
    [0] nothing else
    [one] 1 other
   *[other] { $moved } others
}. Not saved yet.
taken-receipt = { $turn } · { $who } does it, { $minutes } min.
refuse-take-yours = { $turn } is yours already. Nothing was saved.
refuse-turn-which = Which { $duty }, that of { $names }? Name one. Nothing was saved.
refuse-turn-not-then = There is no { $duty } of it then; the next is { $next }. Nothing was saved.
refuse-turn-none = There is no { $duty } of it in the next { $days } days. Nothing was saved.
refuse-turn-gone = { $who } no longer shares the work. Nothing was saved.
refuse-turn-helper = { $who } is a helper without an account, who takes no turn: name someone else. Nothing was saved.
refuse-turn-away = { $who } is away then ({ $turn }). Nothing was saved.
refuse-turn-span = { $who } shares the work on other days alone ({ $turn }). Nothing was saved.
refuse-turn-not-there = { $who } is not there in that round ({ $turn }). Nothing was saved.
refuse-turn-unskilled = { $turn } asks for { $what }, which no keeper has granted { $who } yet. Nothing was saved.

# What is posted of it.
offer-post = { $to }: { $by } offers you { $turn }. It stands until { $until }.
offer-taken = { $turn } · { $who } does it.
offer-declined = { $turn } · not for { $to }; { $who } keeps it.
offer-instead = { $turn } · the offer to { $to } stands no longer; { $who } has offered it to { $other } instead.
offer-lapsed = { $turn } · the offer to { $to } stands no longer; { $who } keeps it.
offer-moved = { $turn } · the offer to { $to } stands no longer; { $who } has it now.
offer-open = { $turn } · the offer to { $to } stands no longer; nobody has it now.
offer-undone = { $turn } · { $who } took the offer back.
offer-gone = { $turn } · done, or no longer asked for.
moved-post = { $owner }: { $who } does { $turn } for you.
moved-undone = { $turn } · taken back: it is where it was.
uncovered-post = { $keepers }: { $count ->
    [one] 1 turn is left with nobody
   *[other] { $count } turns are left with nobody
}
uncovered-none = Covered: every turn has somebody again.

# Who is asked when somebody cannot.
refuse-cannot-none = No turn of yours is called now; one to come is given away with /offer TURN to NAME. Nothing was saved.
refuse-cannot-not-called = That is not called now; a turn of yours to come is given away with /offer TURN to NAME. Nothing was saved.
refuse-cannot-which = Which one, { $names }? Say it behind can't. Nothing was saved.
cannot-asked = { $who } { $count ->
    [one] is
   *[other] are
} asked: { $at }
cannot-then = Then { $who }: { $at }
cannot-last = { $who } { $count ->
    [one] is
   *[other] are
} asked all the same, for no other keeper is there: { $at }
cannot-now = now
cannot-hazard = At risk from { $at }

# Why a turn lies where it does.
whose-freed = { $who } can't, so it is free for anyone.
whose-taken = { $who } said that they do it.
whose-shared = Shared out to { $who }.
whose-offered = { $who } had offered it.
whose-only = Nobody else could do it.
whose-least = { $who } had done least beside their part, of all who could.
whose-by-habit = { $who } does it by habit.
whose-together = { $who } has other turns of that round there.
whose-exchanged = It was exchanged with { $with } for another of the same, since turns had come to lie on other days and so both keep theirs.
whose-evenest = So all loads of the days to come were evenest, though someone else had done less so far.
whose-expected = Not shared out yet; { $who } is next.
whose-nobody = Nobody can do it then.
whose-each = Who can, with minutes done in 8 weeks beside their part: { $people }.
whose-short = { $who } { $minutes } short
whose-beyond = { $who } { $minutes } beyond
whose-away = { $who } is away
whose-not-there = { $who } is not there
whose-unskilled = { $who } is not granted { $what }
whose-helper = { $who } helps others
whose-no-share = { $who } wants no share
whose-habit = { $enclosure } is { $who }'s by habit.

# The week.
week-work = Minutes: { $names }.
week-even = Over four weeks work was shared { $index } even, 1 being fully even.
