# Native commands of the group's chat in Spanish: their names alone. Answers are English, and so are the
# words that are typed behind them.

# Lines.
native-due = pendiente
native-did = hecho
native-read = medido
native-saw = visto
native-undo = deshacer
native-why = por-qué
native-how = cómo
native-week = semana
native-turns = turnos
native-place = lugar
native-enclosure = terrario
native-pool = estanque
native-gear = equipo
native-duty = tarea
native-carer = cuidador
native-rounds = rondas
native-help = ayuda

# What can follow a line.
native-sub-add = añadir
native-sub-set = cambiar
native-sub-list = lista
native-sub-retire = retirar
native-sub-stop = parar
native-sub-start = arrancar
native-sub-link = vincular

# Arguments.
native-option-whose = de-quién
native-option-duty = tarea
native-option-spot = dónde
native-option-at = cuándo
native-option-by = por
native-option-part = parte
native-option-steps = pasos
native-option-amount = cantidad
native-option-again = otra-vez
native-option-note = nota
native-option-readings = medidas
native-option-sighting = observación
native-option-closed = terminado
native-option-entry = entrada
native-option-last = anterior
native-option-full = completo
native-option-carer = persona
native-option-line = comando
native-option-name = nombre
native-option-zone = zona
native-option-quiet = calma
native-option-units = unidades
native-option-sg = densidad
native-option-channel = canal
native-option-code = código
native-option-volume = volumen
native-option-room = habitación
native-option-crabs = cangrejos
native-option-smallest = más-pequeño
native-option-largest = más-grande
native-option-from = desde
native-option-order = orden
native-option-quarantine = cuarentena
native-option-sensor = sensor
native-option-until = hasta
native-option-enclosure = terrario
native-option-water = agua
native-option-nested = anidado
native-option-stationary = fijo
native-option-removable = extraíble
native-option-life = estado
native-option-gear = aparato
native-option-proven = probado
native-option-every = cada
native-option-on = días
native-option-cron = cron
native-option-time = hora
native-option-grace = plazo
native-option-digs = excava
native-option-rule = regla
native-option-hazard = peligro
native-option-role = papel
native-option-stand-in = suplente
native-option-member = miembro
native-option-round = ronda
native-option-photo = foto
