# Energy and run time of the day, the strategies side by side, each bar with its figure.
# needs: summary.csv settings.csv
out = ARG1
load 'common.gp'

heads = heads_of('summary.csv')
high_energy = 1e-3; high_time = 1e-3
stats 'summary.csv' using (high_energy = column('energy [kWh]') > high_energy ? column('energy [kWh]') : high_energy, \
    high_time = column('run_time [h]') > high_time ? column('run_time [h]') : high_time) nooutput

set boxwidth 0.6
set style fill solid 1.0 border linecolor rgb black
set xrange [0.4 : strategy_count + 0.6]
set xtics scale 0 ('' 0)
set for [i = 1 : strategy_count] xtics add (word(strategies, i) i)
unset key
unset grid
set grid y linetype -1 linecolor rgb '#E4E4E4' linewidth 0.7 dashtype 1
bar(i, name) = of(word(strategies, i), column(name))

do for [kind in kinds] {
    eval open_picture(kind, 'energy', 1000, 400)
    set multiplot layout 1, 2 title title_text.': energy and run time of the day' noenhanced
    set ylabel 'energy [kWh]'
    set yrange [0:1.15 * high_energy]
    plot for [i = 1 : strategy_count] 'summary.csv' using (i):(bar(i, 'energy [kWh]')) with boxes linetype i linewidth 0.8 dashtype 1 fillstyle solid bar_fill(i), \
        for [i = 1 : strategy_count] '' using (i):(bar(i, 'energy [kWh]')):(sprintf('%.3f', column('energy [kWh]'))) with labels offset 0, 0.7
    set ylabel 'run time [h]'
    set yrange [0:1.15 * high_time]
    plot for [i = 1 : strategy_count] 'summary.csv' using (i):(bar(i, 'run_time [h]')) with boxes linetype i linewidth 0.8 dashtype 1 fillstyle solid bar_fill(i), \
        for [i = 1 : strategy_count] '' using (i):(bar(i, 'run_time [h]')):(sprintf('%.2f', column('run_time [h]'))) with labels offset 0, 0.7
    unset multiplot
    unset output
}
