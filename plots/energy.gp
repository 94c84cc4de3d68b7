# Energy, run time and water of the day, the strategies side by side, each bar with its figure.  What
# does not fit is hatched and named: it saves nothing that could be had.
# needs: summary.csv settings.csv
out = ARG1
load 'common.gp'

heads = heads_of('summary.csv')
volume = head_in(heads, 'volume')
eval read_verdicts
high_energy = 1e-3; high_time = 1e-3; high_volume = 1e-3
do for [k = others : 0 : -1] {
    from = folder_of(k)
    stats from.'summary.csv' using (high_energy = most(high_energy, column('energy [kWh]')), \
        high_time = most(high_time, column('run_time [h]')), \
        high_volume = most(high_volume, column(volume))) nooutput
    # this folder's own settings come last, and stay
    eval settings_of(word(strategies_in(from), 1))
    if (water_asked == water_asked) { high_volume = most(high_volume, water_asked) }
}

set boxwidth 0.6
set style fill solid 1.0 border linecolor rgb black
set xrange [0.4 : strategy_count + 0.6]
set xtics scale 0 ('' 0)
# a name in two lines
two_lines(name) = (at = strstrt(name, '-'), at == 0 ? name : name[1 : at]."\n".name[at + 1 : *])
set for [i = 1 : strategy_count] xtics add (two_lines(word(strategies, i)) i)
unset key
unset grid
set grid y linetype -1 linecolor rgb '#E4E4E4' linewidth 0.7 dashtype 1
bar(i, name) = of(word(strategies, i), column(name))
misfit(i, name) = fits(i) ? NaN : bar(i, name)
# under the name of a strategy
do for [i = 1 : strategy_count] {
    if (!fits(i)) { set label 10 + i 'does not fit' at i, graph -0.185 center textcolor rgb bad }
}
# a bar for each strategy, hatched where it does not fit, and its figure
bars = "for [i = 1 : strategy_count] 'summary.csv' using (i):(bar(i, name)) with boxes linetype i linewidth 0.8 dashtype 1 fillstyle solid bar_fill(i), ". \
    "for [i = 1 : strategy_count] '' using (i):(misfit(i, name)) with boxes linecolor rgb black linewidth 0.8 dashtype 1 fillstyle transparent pattern 5, ". \
    "for [i = 1 : strategy_count] '' using (i):(bar(i, name)):(sprintf(form, column(name))) with labels offset 0, 0.7"
# what is missing of the water asked for; a hundredth is no shortage that anybody sees
array missing[strategy_count]
do for [i = 1 : strategy_count] {
    missing[i] = 0
    stats 'summary.csv' using (strcol('strategy') eq word(strategies, i) ? (missing[i] = water_asked - column(volume), 0) : 0) nooutput
}

do for [kind in kinds] {
    eval open_picture(kind, 'energy', 1000, 470)
    set multiplot layout 1, 3 title title_text.': energy, run time and water of the day' noenhanced margins 0.085, 0.985, 0.23, 0.88 spacing 0.075, 0
    name = 'energy [kWh]'; form = '%.3f'
    set ylabel name
    set yrange [0:1.15 * high_energy]
    plot @bars
    name = 'run_time [h]'; form = '%.2f'
    set ylabel 'run time [h]'
    set yrange [0:1.15 * high_time]
    plot @bars
    name = volume; form = '%.0f'
    set ylabel 'water to the taps ['.unit_in(heads, 'volume').']'
    set yrange [0:1.3 * high_volume]
    set label 1 (water_asked == water_asked ? sprintf('asked for: %.0f', water_asked) : '') at graph 0.98, graph 0.965 right
    do for [i = 1 : strategy_count] {
        if (missing[i] > 0.01 * water_asked) { set label 20 + i sprintf('%.0f short', missing[i]) at i, graph -0.245 center textcolor rgb bad }
    }
    plot @bars, water_asked with lines linecolor rgb black linewidth 1.2 dashtype (2, 3)
    unset label 1
    do for [i = 1 : strategy_count] { unset label 20 + i }
    unset multiplot
    unset output
}
