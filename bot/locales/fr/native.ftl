# Native commands of the group's chat in French: their names alone. Answers are English, and so are the
# words that are typed behind them.

# Lines.
native-due = prévu
native-did = fait
native-read = mesuré
native-saw = vu
native-undo = annuler
native-why = pourquoi
native-how = comment
native-week = semaine
native-turns = tours
native-place = lieu
native-enclosure = terrarium
native-pool = bassin
native-gear = équipement
native-duty = tâche
native-carer = soignant
native-rounds = rondes
native-help = aide

# What can follow a line.
native-sub-add = ajouter
native-sub-set = modifier
native-sub-list = liste
native-sub-retire = retirer
native-sub-stop = arrêter
native-sub-start = démarrer
native-sub-link = relier

# Arguments.
native-option-whose = à-qui
native-option-duty = tâche
native-option-spot = où
native-option-at = quand
native-option-by = par
native-option-part = part
native-option-steps = étapes
native-option-amount = quantité
native-option-again = encore
native-option-note = note
native-option-readings = mesures
native-option-sighting = observation
native-option-closed = terminé
native-option-entry = entrée
native-option-last = dernière
native-option-full = complet
native-option-carer = personne
native-option-line = commande
native-option-name = nom
native-option-zone = fuseau
native-option-quiet = calme
native-option-units = unités
native-option-sg = densité
native-option-channel = salon
native-option-code = code
native-option-volume = volume
native-option-room = pièce
native-option-crabs = crabes
native-option-smallest = plus-petit
native-option-largest = plus-grand
native-option-from = depuis
native-option-order = ordre
native-option-quarantine = quarantaine
native-option-sensor = capteur
native-option-until = jusque
native-option-enclosure = terrarium
native-option-water = eau
native-option-nested = emboîté
native-option-stationary = fixe
native-option-removable = amovible
native-option-life = état
native-option-gear = appareil
native-option-proven = éprouvé
native-option-every = chaque
native-option-on = jours
native-option-cron = cron
native-option-time = heure
native-option-grace = délai
native-option-digs = creuse
native-option-rule = règle
native-option-hazard = danger
native-option-role = rôle
native-option-stand-in = remplaçant
native-option-member = membre
native-option-round = ronde
native-option-photo = photo
