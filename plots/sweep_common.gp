# What the charts of sweeps share: how to find out what a sweep varied.  Needs `file`.

# The varied items stand first, then the strategy; a file without a reason in its head is no sweep.
# The lesson's sweeps have charts of their own, and a quote would end the name of a picture.
varied = 0
has_reason = 0
head_1 = ''; head_2 = ''; us = 0
stats file every ::0::0 using (varied = (sum [k = 2:7] (columnhead(k) eq 'strategy' ? k - 1 : 0)), \
    has_reason = (sum [k = 10:40] (columnhead(k) eq 'reason')), \
    us = (sum [k = 10:40] (columnhead(k) eq 'precharge [psi]')), \
    head_1 = columnhead(1), head_2 = columnhead(2), 0) nooutput
if (!has_reason || strstrt(file, 'lesson-') == 1 || strstrt(file, "'") > 0) varied = 0
name = file[1 : strlen(file) - 4]

# what is drawn of each sweep
pressure_unit = us ? 'psi' : 'kPa'
quantities = sprintf('"starts_in_worst_hour" "shortest_run [s]" "lowest_tap_pressure [%s]" "energy [kWh]"', pressure_unit)
labels = sprintf('"starts in worst hour" "shortest run [s]" "lowest tap pressure [%s]" "energy [kWh]"', pressure_unit)

# the strategies of the sweep, in their order, and how many values the last item has
strategies = ''
first = ''
rows = 0; leading = 0
note(strategy) = strstrt(strategies.' ', ' '.strategy.' ') || strstrt(strategy, "'") ? 0 : (strategies = strategies.' '.strategy, 0)
follow(value) = (rows == 0 ? (first = value, 0) : 0, value eq first && rows == leading ? (leading = leading + 1) : 0, rows = rows + 1)
look = "stats file using (note(strcol('strategy')), follow(strcol(1)), 0) nooutput"

# values of a column as tic labels: those of every step-th of the rows that begin a new value; a
# quote would end the label
tics = ''
tic(value, place) = strstrt(value, '"') || strstrt(value, '\') ? 0 : (tics = tics.(tics eq '' ? '' : ', ').sprintf('"%s" %d', value, place), 0)
