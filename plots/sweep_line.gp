# A sweep of one item: starts, shortest run, lowest tap pressure and energy against it, with the limits
# of the first three.  Filled marks meet every limit of the day, hollow ones do not.
# each: *.csv
# but: cycles.csv hours.csv settings.csv summary.csv trace.csv zoom.csv
out = ARG1
file = ARG2
load 'common.gp'
load 'sweep_common.gp'
if (varied != 1) exit
eval look
count = words(strategies)

# words stand side by side in their order, numbers at their value
words_only = 0
stats file every ::0::0 using (words_only = !valid(1), 0) nooutput
place(row) = floor(row / count)
x = words_only ? '(place(column(0)))' : '1'
if (words_only) {
    stats file using (int(column(0)) % count == 0 ? tic(strcol(1), place(column(0))) : 0, 0) nooutput
    set xtics ()
    set for [k = 1 : tic_count] xtics add (tic_label[k] tic_place[k])
    set xrange [-0.3 : place(rows) - 0.7]
}

set lmargin 11
set rmargin 3
points = rows / count > 60 ? 0.4 : 1.0
passing(k, name) = passes(0) ? of(word(strategies, k), column(name)) : NaN
failing(k, name) = passes(0) ? NaN : of(word(strategies, k), column(name))

do for [kind in kinds] {
    eval open_picture(kind, 'sweep-'.name, 900, 1040)
    set multiplot
    set label 1 heading at screen 0.5, 0.98 center noenhanced font title_font(kind)
    set label 2 'filled mark: meets every limit of the day; hollow mark: does not' at screen 0.52, 0.93 center noenhanced
    set key at screen 0.52, 0.955 center horizontal samplen 4
    do for [i = 1:4] {
        set tmargin at screen 0.905 - 0.217 * (i - 1)
        set bmargin at screen 0.735 - 0.217 * (i - 1)
        set ylabel word(labels, i)
        if (i < 4) { set format x ''; unset xlabel }
        if (i == 4) { set format x '%g'; set xlabel unguarded(head_1) noenhanced }
        if (i > 1) { unset key; unset label 1; unset label 2 }
        quantity = word(quantities, i)
        # where not a single day could be run there is a range all the same
        lowest = NaN; highest = NaN
        stats file using (extend(column(quantity)), 0) nooutput
        if (lowest == lowest) { set yrange [*<0:*] } else { set yrange [0:1] }
        plot for [k = 1:count] file using @x:(of(word(strategies, k), column(quantity))) \
            with lines linetype k linewidth 2 notitle, \
            for [k = 1:count] '' using @x:(passing(k, quantity)) \
            with points linetype k linewidth 2 pointtype 3 + 2 * k + 4 * (k == 3) pointsize 1.1 * points notitle, \
            for [k = 1:count] '' using @x:(failing(k, quantity)) \
            with points linetype k linewidth 1.4 pointtype 2 + 2 * k + 4 * (k == 3) pointsize 1.3 * points notitle, \
            '' using @x:(limit_of(i)) with lines linecolor rgb black linewidth 1.2 dashtype (2, 3) \
            title (i == 1 && has_limits ? 'limit' : ''), \
            for [k = 1:count] NaN with linespoints linetype k linewidth 2 pointtype 3 + 2 * k + 4 * (k == 3) title word(strategies, k)
    }
    unset multiplot
    unset output
}
