# Cycles per hour by hour of the day, the strategies side by side.
# needs: hours.csv settings.csv
out = ARG1
load 'common.gp'

eval read_verdicts

# the highest bar; where the limit is not far above it is drawn too
high = 1
do for [k = 0 : others] {
    stats folder_of(k).'hours.csv' using (high = column('starts') > high ? column('starts') : high) nooutput
}
eval settings_of(word(strategies, 1))
limit_shown = starts_limit == starts_limit && starts_limit <= 2.5 * high
top = limit_shown && starts_limit > high ? starts_limit : high

width = 0.8 / strategy_count
place(i, hour) = hour + 0.5 + (i - (strategy_count + 1) / 2.0) * width
set boxwidth width
set style fill solid 1.0 border linecolor rgb black
set xrange [0:24]
set xtics 2 format '%02.0f:00'
set mxtics 2
set yrange [0:1.08 * top]
if (top < 6) set ytics 1
set xlabel 'hour of the day'
set ylabel 'starts of the pump [1/h]'
set key at graph 1, 1.03 right bottom horizontal reverse Left width 1

do for [kind in kinds] {
    eval open_picture(kind, 'hours', 1000, 440)
    set tmargin 6.5
    set title title_text.': pump cycles per hour' noenhanced offset 0, 2.6
    bars(i) = of(word(strategies, i), column('starts'))
    if (limit_shown) {
        plot for [i = 1 : strategy_count] 'hours.csv' using (place(i, column('hour'))):(bars(i)) with boxes linetype i linewidth 0.8 dashtype 1 fillstyle solid bar_fill(i) title word(strategies, i).mark(i), \
            starts_limit with lines linecolor rgb black linewidth 1.2 dashtype (2, 3) title sprintf('at most %g in any 60 minutes', starts_limit)
    } else {
        plot for [i = 1 : strategy_count] 'hours.csv' using (place(i, column('hour'))):(bars(i)) with boxes linetype i linewidth 0.8 dashtype 1 fillstyle solid bar_fill(i) title word(strategies, i).mark(i)
    }
    unset output
}
