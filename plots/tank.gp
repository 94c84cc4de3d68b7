# What the tank holds at each pressure of the day, the precharge marked: below it the tank is empty.
# Filled marks while it fills, hollow ones while it gives water: with gas that warms as it is pressed
# and cools as it expands these are two branches.
# needs: trace.csv settings.csv
out = ARG1
load 'common.gp'

heads = heads_of('trace.csv')
volume_unit = unit_in(heads, 'tank_water')
pressure = head_in(heads, 'header_pressure')
water = head_in(heads, 'tank_water')

low = 1e9; high = 0.1; full = 1e-3
array precharges[strategy_count]
do for [k = 0 : others] {
    from = folder_of(k)
    stats from.'trace.csv' using (low = least(low, column(pressure)), high = most(high, column(pressure)), \
        full = most(full, column(water))) nooutput
    do for [strategy in strategies_in(from)] {
        eval settings_of(strategy)
        low = least(low, precharge)
        high = most(high, precharge)
    }
}
from = ''
do for [i = 1 : strategy_count] {
    eval settings_of(word(strategies, i))
    precharges[i] = precharge
}
margin = 0.05 * (high - low) + 0.01
set xrange [low - margin : high + margin]
set yrange [-0.03 * full : 1.25 * full]
set xlabel 'header pressure ['.pressure_unit.']'
set ylabel 'water in the tank ['.volume_unit.']'
set key at graph 1, 1.03 right bottom horizontal reverse Left width 1

# It fills from the pump, or from the supply through it, while more comes than is drawn.
fills(unused) = column(head_in(heads, 'pump_flow')) > column(head_in(heads, 'demand_flow'))

# Two branches are apart both ways: in water at one pressure, and in pressure at one water.  A single
# curve is so in one way at most, where it is steep or where it is flat.
slices = 60
array span_least[strategy_count * (slices + 1)]
array span_most[strategy_count * (slices + 1)]
slice(i, share) = 1 + int(slices * share) + (slices + 1) * (i - 1)
note_span(k, y) = (span_least[k] = least(span_least[k], y), span_most[k] = most(span_most[k], y), 0)
across(x) = (x - low) / (high - low + 1e-9)
up(y) = y / full
# the widest span of one in the slices of the other
measure = "do for [k = 1 : |span_least|] { span_least[k] = 1e9; span_most[k] = -1e9 }; \
    do for [i = 1 : strategy_count] { stats 'trace.csv' using (strcol('strategy') eq word(strategies, i) && \
        column(water) > 0.02 * full ? note_span(slice(i, sliced(column(pressure), column(water))), \
        spanned(column(pressure), column(water))) : 0) nooutput }; \
    apart = 0; do for [k = 1 : |span_least|] { apart = most(apart, span_most[k] - span_least[k]) }"
sliced(x, y) = across(x); spanned(x, y) = up(y)
eval measure
apart_in_water = apart
sliced(x, y) = up(y); spanned(x, y) = across(x)
eval measure
has_branches = apart_in_water > 0.04 && apart > 0.04

# the first point in each cell of a fine mesh is enough
cells = 120
array seen[2 * strategy_count * (cells + 1) * (cells + 1)]
cell(i, filling, x, y) = 1 + int(cells * (x - low) / (high - low + 1e-9)) + \
    (cells + 1) * (int(cells * y / full) + (cells + 1) * (2 * (i - 1) + filling))
thin(i, filling, x, y) = strcol('strategy') ne word(strategies, i) || fills(0) != filling ? NaN : \
    seen[cell(i, filling, x, y)] == pass ? NaN : (seen[cell(i, filling, x, y)] = pass, y)
pass = 0
do for [i = 1 : |seen|] { seen[i] = 0 }

explained = has_branches ? \
    "Two branches: filling (filled marks) presses and warms the gas, which leaves less room for water;\nwhile the tank gives water (hollow marks) the gas is cooler. Below its precharge the tank is empty." : \
    "One curve, filling (filled marks) or giving water (hollow marks): at one pressure the tank holds the same either way.\nBelow its precharge the tank is empty."

do for [kind in kinds] {
    eval open_picture(kind, 'tank', 1000, 540)
    pass = pass + 1
    set tmargin at screen 0.84
    set bmargin at screen 0.21
    set title title_text.': water in the tank against pressure' noenhanced offset 0, 1.6
    set label 100 explained at screen 0.5, 0.075 center textcolor rgb '#404040' noenhanced
    do for [i = 1 : strategy_count] {
        set arrow i from precharges[i], graph 0 to precharges[i], graph 0.87 - 0.06 * i nohead linetype i linewidth 1.6
        words_of = sprintf('precharge, %s: %.4g %s', word(strategies, i), precharges[i], pressure_unit)
        # to the side where there is room
        if (precharges[i] < (low + 2 * high) / 3) {
            set label i words_of at precharges[i], graph 0.89 - 0.06 * i left offset 0.6, 0 noenhanced
        } else {
            set label i words_of at precharges[i], graph 0.89 - 0.06 * i right offset -0.6, 0 noenhanced
        }
    }
    plot for [i = 1 : strategy_count] 'trace.csv' using (column(pressure)):(thin(i, 0, column(pressure), column(water))) \
        with points pointtype 4 + 2 * i pointsize 0.6 linetype i linewidth 1 title word(strategies, i), \
        for [i = 1 : strategy_count] '' using (column(pressure)):(thin(i, 1, column(pressure), column(water))) \
        with points pointtype 5 + 2 * i pointsize 0.6 linetype i linewidth 1 notitle
    unset output
}
