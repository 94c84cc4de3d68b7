# What the charts of sweeps share: how to find out what a sweep varied.  Needs `file`, whose name
# begins with `./`: else gnuplot takes a `$` for a block of data, a `<` for a command.

# The varied items stand first, then the strategy; a file without a reason in its head is no sweep.
# The lesson's sweeps have charts of their own.
varied = 0
has_reason = 0
head_1 = ''; head_2 = ''; us = 0
stats file every ::0::0 using (varied = (sum [k = 2:7] (columnhead(k) eq 'strategy' ? k - 1 : 0)), \
    has_reason = (sum [k = 10:40] (columnhead(k) eq 'reason')), \
    us = (sum [k = 10:40] (columnhead(k) eq 'precharge [psi]')), \
    head_1 = columnhead(1), head_2 = columnhead(2), 0) nooutput
if (!has_reason || strstrt(file, './lesson-') == 1) varied = 0
name = file[3 : strlen(file) - 4]

# The house's name, told in each row that was run; what each row was judged by, and how it was found.
# An older file lacks what it was judged by.
sweep_heads = heads_of(file)
house = ''
note_house(text) = (house eq '' && text ne '' ? (house = text, 0) : 0)
has_title = has_column(sweep_heads, 'title') && varied > 0
if (has_title) { stats file using (note_house(strcol('title')), 0) nooutput }
heading = (house eq '' ? '' : unguarded(house).': ').'sweep '.name
has_limits = has_column(sweep_heads, 'starts_limit') && varied > 0
has_verdict = has_column(sweep_heads, 'verdict')
passes(unused) = has_verdict ? strcol('verdict')[1 : 2] eq 'ok' : 1
limits = sprintf('"starts_limit" "run_limit [s]" "tap_limit [%s]"', us ? 'psi' : 'kPa')
limit_of(i) = has_limits && i <= 3 ? column(word(limits, i)) : NaN

# what is drawn of each sweep
pressure_unit = us ? 'psi' : 'kPa'
quantities = sprintf('"starts_in_worst_hour" "shortest_run [s]" "lowest_tap_pressure [%s]" "energy [kWh]"', pressure_unit)
labels = sprintf('"starts in worst hour" "shortest run [s]" "lowest tap pressure [%s]" "energy [kWh]"', pressure_unit)

# The strategies of the sweep, in their order, and how many values the last item has.  They are parts
# of the names of pictures: letters and dashes, nothing that leads elsewhere.
strategies = ''
first = ''
rows = 0; leading = 0
is_plain(word) = strlen(word) > 0 && (sum [k = 1 : strlen(word)] (strstrt('abcdefghijklmnopqrstuvwxyz-', word[k : k]) > 0)) == strlen(word)
note(strategy) = !is_plain(strategy) || strstrt(strategies.' ', ' '.strategy.' ') ? 0 : (strategies = strategies.' '.strategy, 0)
follow(value) = (rows == 0 ? (first = value, 0) : 0, value eq first && rows == leading ? (leading = leading + 1) : 0, rows = rows + 1)
look = "stats file using (note(strcol('strategy')), follow(strcol(1)), 0) nooutput"

# Values of a column as the labels of tics: `tic_count = 0`, then tic(value, place) for each, then
# `set for [k = 1 : tic_count] xtics add (tic_label[k] tic_place[k])`.
tics_most = 64
array tic_label[tics_most]
array tic_place[tics_most]
tic_count = 0
tic(value, place) = tic_count == tics_most ? 0 : (tic_count = tic_count + 1, \
    tic_label[tic_count] = unformatted(unguarded(value)), tic_place[tic_count] = place, 0)
# a label is a format too
unformatted(text) = (at = strstrt(text, '%'), at == 0 ? text : text[1 : at].'%'.unformatted(text[at + 1 : *]))
set tics noenhanced

# the range of a column: lowest and highest begin as NaN
extend(value) = (value < lowest || lowest != lowest ? (lowest = value, 0) : 0, \
    value > highest || highest != highest ? (highest = value, 0) : 0)
