# A sweep of two items, a picture for each strategy: a field for each pair of values, its colour by
# the figure, one scale of colours for all strategies.  A cross marks what does not meet every limit of
# the day.  The values stand side by side in their order, whatever lies between them; a pair that
# failed, or has no such figure, is left white.
# each: *.csv
# but: cycles.csv hours.csv settings.csv summary.csv trace.csv zoom.csv
out = ARG1
file = ARG2
load 'common.gp'
load 'sweep_common.gp'
if (varied != 2) exit
eval look
count = words(strategies)
across = leading / count
along = rows / leading

# tics at no more than a dozen values
step(n) = ceil(n / 12.0)
combination(row) = floor(row / count)
place_2(row) = int(combination(row)) % int(across)
place_1(row) = floor(combination(row) / across)
stats file using (int(column(0)) % (count * step(across)) == 0 && column(0) < leading ? \
    tic(strcol(2), place_2(column(0))) : 0, 0) nooutput
set xtics ()
set for [k = 1 : tic_count] xtics add (tic_label[k] tic_place[k])
tic_count = 0
stats file using (int(column(0)) % int(leading * step(along)) == 0 ? tic(strcol(1), place_1(column(0))) : 0, 0) nooutput
set ytics ()
set for [k = 1 : tic_count] ytics add (tic_label[k] tic_place[k])

# Light to dark, in one order for every kind of sight and in black and white.
set palette defined (0 '#FBE7A1', 1 '#FBCB7C', 2 '#F59B61', 3 '#D65A62', 4 '#93306F', 5 '#3F1857')
set style fill solid 1.0 noborder
unset grid
set tics out nomirror
unset key
set xrange [-0.5 : across - 0.5]
set yrange [-0.5 : along - 0.5]
boxes = "(place_2(column(0))):(place_1(column(0))):(place_2(column(0)) - 0.5):(place_2(column(0)) + 0.5)". \
    ":(place_1(column(0)) - 0.5):(place_1(column(0)) + 0.5)"
# figures within the fields where there is room
digits = across <= 10 && along <= 16
# a cross in a corner where there are figures, else in the middle
aside = digits ? 0.36 : 0
cross_size = digits ? 1.0 : least(0.8, 12.0 / most(across, along))
failing(strategy, value) = strcol('strategy') eq strategy && value == value && !passes(0) ? place_1(column(0)) + aside : NaN
# the limit of a quantity, if it is the same in all rows; words for it
array limit_least[3]
array limit_most[3]
note_limit(i, value) = value == value ? (limit_least[i] = least(limit_least[i], value), limit_most[i] = most(limit_most[i], value), 0) : 0
do for [i = 1:3] {
    limit_least[i] = 1e99; limit_most[i] = -1e99
    if (has_limits) { stats file using (note_limit(i, limit_of(i)), 0) nooutput }
}
limit_words(i) = i > 3 || limit_least[i] != limit_most[i] ? '' : sprintf(i == 1 ? ', at most %.4g' : ', at least %.4g', limit_least[i])

do for [strategy in strategies] {
    do for [kind in kinds] {
        eval open_picture(kind, 'sweep-'.name.'-'.strategy, 1000, 900)
        set multiplot layout 2, 2 margins 0.09, 0.9, 0.09, 0.86 spacing 0.2, 0.13
        set label 1 heading.', '.strategy at screen 0.5, 0.975 center noenhanced font title_font(kind)
        set label 2 'with a cross: does not meet every limit of the day; white: no such figure' at screen 0.5, 0.94 center noenhanced
        do for [i = 1:4] {
            if (i > 1) { unset label 1; unset label 2 }
            set title word(labels, i).limit_words(i) noenhanced
            set xlabel unguarded(head_2) noenhanced
            set ylabel unguarded(head_1) noenhanced
            quantity = word(quantities, i)
            lowest = NaN; highest = NaN
            stats file using (extend(column(quantity)), 0) nooutput
            middle = 0.5 * (lowest + highest)
            # without a single figure there is nothing to draw but crosses
            set cbrange [lowest == lowest ? lowest : 0 : highest > lowest ? highest : middle + 1]
            # of this strategy there may be none where others have some
            figures = 0
            stats file using (of(strategy, column(quantity)) == column(quantity) ? (figures = figures + 1, 0) : 0, 0) nooutput
            if (figures > 0) {
                plot file using @boxes:(of(strategy, column(quantity))) with boxxyerror fillcolor palette, \
                    '' using (place_2(column(0)) - aside):(failing(strategy, column(quantity))):(column(quantity) > middle ? 0xFFFFFF : 0x000000) \
                        with points pointtype 2 pointsize cross_size linewidth 1.4 linecolor rgb variable, \
                    '' using (place_2(column(0))):(digits ? place_1(column(0)) : NaN):(of(strategy, column(quantity)) == column(quantity) ? sprintf('%.3g', column(quantity)) : ''):(column(quantity) > middle ? 0xFFFFFF : 0x000000) \
                        with labels textcolor rgb variable
            } else {
                plot file using (NaN):(0) with points notitle
            }
        }
        unset multiplot
        unset output
    }
}
