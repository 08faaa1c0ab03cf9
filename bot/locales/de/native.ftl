# Native commands of the group's chat in German: their names alone. Answers are English, and so are the
# words that are typed behind them.

# Lines.
native-due = fällig
native-did = erledigt
native-read = gemessen
native-saw = gesehen
native-undo = zurücknehmen
native-why = warum
native-how = wie
native-week = woche
native-turns = dienste
native-place = ort
native-enclosure = terrarium
native-pool = becken
native-gear = technik
native-duty = aufgabe
native-carer = pflegende
native-rounds = runden
native-help = hilfe

# What can follow a line.
native-sub-add = neu
native-sub-set = ändern
native-sub-list = liste
native-sub-retire = beenden
native-sub-stop = anhalten
native-sub-start = anlassen
native-sub-link = verbinden

# Arguments.
native-option-whose = wessen
native-option-duty = aufgabe
native-option-spot = wo
native-option-at = wann
native-option-by = von
native-option-part = anteil
native-option-steps = schritte
native-option-amount = menge
native-option-again = nochmals
native-option-note = notiz
native-option-readings = werte
native-option-sighting = beobachtung
native-option-closed = vorbei
native-option-entry = eintrag
native-option-last = letzte
native-option-full = vollständig
native-option-carer = person
native-option-line = befehl
native-option-name = name
native-option-zone = zeitzone
native-option-quiet = ruhe
native-option-units = einheiten
native-option-sg = dichte
native-option-channel = kanal
native-option-code = code
native-option-volume = volumen
native-option-room = zimmer
native-option-crabs = krabben
native-option-smallest = kleinste
native-option-largest = größte
native-option-from = ab
native-option-order = reihenfolge
native-option-quarantine = quarantäne
native-option-sensor = sensor
native-option-until = bis
native-option-enclosure = terrarium
native-option-water = wasser
native-option-nested = ineinander
native-option-stationary = fest
native-option-removable = herausnehmbar
native-option-life = stand
native-option-gear = gerät
native-option-proven = eingefahren
native-option-every = alle
native-option-on = wochentage
native-option-cron = cron
native-option-time = uhrzeit
native-option-grace = frist
native-option-digs = gräbt
native-option-rule = regel
native-option-hazard = gefahr
native-option-role = rolle
native-option-stand-in = vertretung
native-option-member = mitglied
native-option-round = runde
native-option-photo = foto
