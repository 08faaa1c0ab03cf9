# A carer's turns as a calendar, and its address.

# In the calendar itself.
calendar-name = { $place }: { $carer }
calendar-what = The turns of { $carer } at { $place } in the next { $days } days.
calendar-turn = { $duty }, { $target }
calendar-about = About { $minutes } min. Once it is done, say /did { $what }.

# Its address.
calendar-given = Your turns have an address: subscribe to it in the calendar that you use.
calendar-address = { $address }
calendar-alarm = An alarm rings { $minutes } min before each turn.
calendar-no-alarm = No alarm rings; with one it is /link calendar alarm 30 min.
calendar-replaced = The earlier address leads nowhere from now on.
calendar-secret = Whoever has it can read your turns, and it is not told again. /link calendar makes another, /link calendar off ends it.
calendar-ended = The address of your calendar leads nowhere from now on.
calendar-none = Your calendar has no address. /link calendar gives it one.
calendar-stands = Your calendar has an address. It was told once; /link calendar makes another, /link calendar off ends it.
