# What the tank holds at each pressure of the day, the precharge marked: below it the tank is empty.
# needs: trace.csv settings.csv
out = ARG1
load 'common.gp'

heads = heads_of('trace.csv')
volume_unit = unit_in(heads, 'tank_water')
pressure = head_in(heads, 'header_pressure')
water = head_in(heads, 'tank_water')

low = 1e9; high = 0.1; full = 1e-3
stats 'trace.csv' using (low = column(pressure) < low ? column(pressure) : low, \
    high = column(pressure) > high ? column(pressure) : high, \
    full = column(water) > full ? column(water) : full) nooutput
array precharges[strategy_count]
do for [i = 1 : strategy_count] {
    eval settings_of(word(strategies, i))
    precharges[i] = precharge
    low = precharge < low ? precharge : low
    high = precharge > high ? precharge : high
}
margin = 0.05 * (high - low) + 0.01
set xrange [low - margin : high + margin]
set yrange [-0.03 * full : 1.25 * full]
set xlabel 'header pressure ['.pressure_unit.']'
set ylabel 'water in the tank ['.volume_unit.']'
set key at graph 1, 1.03 right bottom horizontal reverse Left width 1

# the first point in each cell of a fine mesh is enough
cells = 120
array seen[strategy_count * (cells + 1) * (cells + 1)]
cell(i, x, y) = 1 + int(cells * (x - low) / (high - low + 1e-9)) + \
    (cells + 1) * (int(cells * y / full) + (cells + 1) * (i - 1))
thin(i, x, y) = strcol('strategy') ne word(strategies, i) ? NaN : \
    seen[cell(i, x, y)] == pass ? NaN : (seen[cell(i, x, y)] = pass, y)
pass = 0
do for [i = 1 : |seen|] { seen[i] = 0 }

do for [kind in kinds] {
    eval open_picture(kind, 'tank', 1000, 480)
    pass = pass + 1
    set tmargin 5
    set title title_text.': water in the tank against pressure' noenhanced offset 0, 1.6
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
    plot for [i = 1 : strategy_count] 'trace.csv' using (column(pressure)):(thin(i, column(pressure), column(water))) \
        with points pointtype 4 + 2 * i pointsize 0.6 linetype i linewidth 1 title word(strategies, i)
    unset output
}
