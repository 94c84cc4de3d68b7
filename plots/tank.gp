# What the tank holds at each pressure of the day, the precharge marked: below it the tank is empty.
# Filled marks while it fills, hollow ones while it gives water: with gas that warms as it is pressed
# and cools as it expands these are two branches.
# needs: trace.csv settings.csv
out = ARG1
load 'common.gp'

heads = heads_of('trace.csv')
volume_unit = unit_in(heads, 'tank_water')
pressure = place_in(heads, 'header_pressure')
water = place_in(heads, 'tank_water')
drawn = place_in(heads, 'demand_flow')
pumped = place_in(heads, 'pump_flow')

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
fills(unused) = column(pumped) > column(drawn)
# the place of a row's strategy; rows of one strategy follow each other
shown = 0; strategy_read = ''
placed(strategy) = strategy eq strategy_read ? shown : (strategy_read = strategy, shown = index_of(strategy))

# Two branches are apart both ways: in water at one pressure, and in pressure at one water.  A single
# curve is so in one way at most, where it is steep or where it is flat.
slices = 60
spans = strategy_count * (slices + 1)
array water_least[spans]
array water_most[spans]
array pressure_least[spans]
array pressure_most[spans]
do for [k = 1 : spans] {
    water_least[k] = 1e9; water_most[k] = -1e9; pressure_least[k] = 1e9; pressure_most[k] = -1e9
}
slice(i, share) = 1 + int(slices * share) + (slices + 1) * (i - 1)
across(x) = (x - low) / (high - low + 1e-9)
up(y) = y / full
# the widest span of one in the slices of the other
note_spans(i, x, y) = (k = slice(i, x), water_least[k] = least(water_least[k], y), water_most[k] = most(water_most[k], y), \
    k = slice(i, y), pressure_least[k] = least(pressure_least[k], x), pressure_most[k] = most(pressure_most[k], x), 0)
note_row(i) = column(water) > 0.02 * full ? note_spans(i, across(column(pressure)), up(column(water))) : 0

# the first point in each cell of a fine mesh is enough
cells = 120
array seen[2 * strategy_count * (cells + 1) * (cells + 1)]
emptied = (sum [i = 1 : |seen|] (seen[i] = 0, 0))
cell(i, filling, x, y) = 1 + int(cells * across(x)) + (cells + 1) * (int(cells * y / full) + (cells + 1) * (2 * (i - 1) + filling))
is_first(place) = seen[place] == 0 ? (seen[place] = 1) : 0
keep_row(unused) = shown == 0 ? 0 : (note_row(shown), is_first(cell(shown, fills(0), column(pressure), column(water))))
set print $points
print 'shown,pressure,water,pumped,drawn'
unset print
set table $points append separator comma
plot 'trace.csv' using (placed(strcol('strategy'))):pressure:water:pumped:drawn with table if (keep_row(0))
unset table

apart_in_water = 0; apart = 0
do for [k = 1 : spans] {
    apart_in_water = most(apart_in_water, water_most[k] - water_least[k])
    apart = most(apart, pressure_most[k] - pressure_least[k])
}
has_branches = apart_in_water > 0.04 && apart > 0.04

of_branch(i, filling) = column(1) == i && (column(4) > column(5)) == filling ? column(3) : NaN

explained = has_branches ? \
    "Two branches: filling (filled marks) presses and warms the gas, which leaves less room for water;\nwhile the tank gives water (hollow marks) the gas is cooler. Below its precharge the tank is empty." : \
    "One curve, filling (filled marks) or giving water (hollow marks): at one pressure the tank holds the same either way.\nBelow its precharge the tank is empty."

do for [kind in kinds] {
    eval open_picture(kind, 'tank', 1000, 540)
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
    plot for [i = 1 : strategy_count] $points using 2:(of_branch(i, 0)) \
        with points pointtype 4 + 2 * i pointsize 0.6 linetype i linewidth 1 title word(strategies, i), \
        for [i = 1 : strategy_count] '' using 2:(of_branch(i, 1)) \
        with points pointtype 5 + 2 * i pointsize 0.6 linetype i linewidth 1 notitle
    unset output
}
