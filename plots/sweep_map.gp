# A sweep of two items, a picture for each strategy: a field for each pair of values, its colour by
# the figure.  The values stand side by side in their order, whatever lies between them; a pair that
# failed, or has no such figure, is left white with a cross.
# each: *.csv
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
set palette defined (0 '#FFF7D6', 1 '#FDD58C', 2 '#F59B61', 3 '#D65A62', 4 '#93306F', 5 '#3F1857')
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
missing(strategy, value) = strcol('strategy') eq strategy && !(value == value) ? place_1(column(0)) : NaN

extend(value) = (value < lowest || lowest != lowest ? (lowest = value, 0) : 0, \
    value > highest || highest != highest ? (highest = value, 0) : 0)

do for [strategy in strategies] {
    do for [kind in kinds] {
        eval open_picture(kind, 'sweep-'.name.'-'.strategy, 1000, 900)
        set multiplot layout 2, 2 title 'sweep: '.name.', '.strategy noenhanced margins 0.09, 0.93, 0.09, 0.88 spacing 0.17, 0.13
        do for [i = 1:4] {
            set title word(labels, i)
            set xlabel head_2 noenhanced
            set ylabel head_1 noenhanced
            quantity = word(quantities, i)
            lowest = NaN; highest = NaN
            stats file using (extend(of(strategy, column(quantity))), 0) nooutput
            middle = 0.5 * (lowest + highest)
            # without a single figure there is nothing to draw but crosses
            set cbrange [lowest == lowest ? lowest : 0 : highest > lowest ? highest : middle + 1]
            plot file using @boxes:(of(strategy, column(quantity))) with boxxyerror fillcolor palette, \
                '' using (place_2(column(0))):(missing(strategy, column(quantity))) with points pointtype 2 pointsize 0.8 linecolor rgb grey, \
                '' using (place_2(column(0))):(digits ? place_1(column(0)) : NaN):(of(strategy, column(quantity)) == column(quantity) ? sprintf('%.3g', column(quantity)) : ''):(column(quantity) > middle ? 0xFFFFFF : 0x000000) \
                    with labels textcolor rgb variable
        }
        unset multiplot
        unset output
    }
}
