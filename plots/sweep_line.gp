# A sweep of one item: starts, shortest run, lowest tap pressure and energy against it.
# each: *.csv
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
set key at screen 0.52, 0.945 center horizontal samplen 4
points = rows / count > 60 ? 0.3 : 0.7

do for [kind in kinds] {
    eval open_picture(kind, 'sweep-'.name, 900, 1000)
    set multiplot title 'sweep: '.name noenhanced offset 0, -0.3
    do for [i = 1:4] {
        set tmargin at screen 0.92 - 0.215 * (i - 1)
        set bmargin at screen 0.74 - 0.215 * (i - 1)
        set ylabel word(labels, i)
        if (i < 4) { set format x ''; unset xlabel }
        if (i == 4) { set format x '%g'; set xlabel head_1 noenhanced }
        if (i > 1) { unset key }
        set yrange [*<0:*]
        plot for [k = 1:count] file using @x:(of(word(strategies, k), column(word(quantities, i)))) \
            with linespoints linetype k linewidth 2 pointtype 3 + 2 * k pointsize points title word(strategies, k)
    }
    set key at screen 0.52, 0.945 center horizontal samplen 4
    unset multiplot
    unset output
}
