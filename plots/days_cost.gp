# What an installation costs over its years: the present value of all that is paid up to the end of each,
# with what many days leave open of it as a band.
# needs: days-cost.csv days-summary.csv
out = ARG1
load 'common.gp'

load 'days_common.gp'
if (days_are_old) { exit }

told(i) = sprintf('%s: %d of %d days fail', word(strategies, i), failing[i], days_run[i])

highest = 0
stats 'days-cost.csv' using (highest = most(highest, column('present_value_most')), 0) nooutput
set yrange [0 : 1.08 * most(highest, 1)]
set xlabel 'years'
set ylabel 'present value of all that is paid, in the currency of the prices'
set key left top vertical noenhanced reverse Left samplen 3
set style fill transparent solid 0.18 noborder

do for [kind in kinds] {
    eval open_picture(kind, 'days-cost', 1000, 520)
    set title title_text.': cost over the years' noenhanced font title_font(kind)
    plot for [i = 1 : strategy_count] 'days-cost.csv' using (column('year')):(of(word(strategies, i), column('present_value_least'))):(of(word(strategies, i), column('present_value_most'))) with filledcurves linetype i notitle, \
        for [i = 1 : strategy_count] '' using (column('year')):(of(word(strategies, i), column('present_value'))) with linespoints linetype i pointtype 7 pointsize 0.4 title told(i)
    unset output
}
