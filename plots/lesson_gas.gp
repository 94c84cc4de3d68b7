# The precharge lesson: three ideas of the tank's gas, against the precharge.
# needs: lesson-gas.csv
out = ARG1
load 'common.gp'

file = 'lesson-gas.csv'
heads = heads_of(file)
pressure = unit_in(heads, 'tank.precharge')
field(name) = column(head_in(heads, name))
load 'lesson_common.gp'
with_gas(gas, value) = strcol('tank.gas') eq gas ? value : NaN
gases = 'isothermal polytropic thermal'

stats file using (start = field('start_pressure')) nooutput
stats file using (field('tank.precharge')) name 'x' nooutput
rule = start - rule_under

set xrange [x_min:x_max]
set xtics is_us ? 5 : 50
set mxtics 5
set lmargin 10
set rmargin 3
set key at screen 0.52, 0.93 center horizontal samplen 4
# statistics see only what is within the ranges
measure(name) = (measured = name, "set yrange [*:*]; stats file using (field(measured)) name 'y' nooutput")
mark(top) = sprintf("set arrow 1 from start, 0 to start, %g nohead linecolor rgb grey linewidth 1.5; ". \
    "set arrow 2 from rule, 0 to rule, %g nohead linecolor rgb vermillion linewidth 2 dashtype (4, 3); ". \
    "set yrange [0:%g]", top, top, top)

do for [kind in kinds] {
    eval open_picture(kind, 'lesson-gas', lesson_width, lesson_height)
    set multiplot title 'The precharge lesson: three ideas of the gas' offset 0, -0.3
    set format x ''
    unset xlabel
    set tmargin at screen 0.81; set bmargin at screen 0.6
    eval other_unit(1)
    eval most_starts(1)
    set ylabel 'starts in worst hour'
    eval measure('starts_in_worst_hour')
    eval mark(1.25 * y_max)
    set label 1 'rule of thumb: 2 psi under start' at rule, graph 0.93 right offset -0.8, 0 textcolor rgb vermillion
    set label 2 'start pressure' at start, graph 0.93 left offset 0.5, 0 textcolor rgb '#404040'
    plot for [i = 1:3] file using (field('tank.precharge')):(with_gas(word(gases, i), field('starts_in_worst_hour'))) \
        with linespoints linetype i linewidth 2 pointtype 4 + 2 * i pointsize 0.6 title word(gases, i)
    unset label
    eval no_most_starts
    eval other_unit(0)
    unset key
    set tmargin at screen 0.565; set bmargin at screen 0.355
    set ylabel 'shortest run [s]'
    eval measure('shortest_run')
    eval mark(1.1 * y_max)
    plot for [i = 1:3] file using (field('tank.precharge')):(with_gas(word(gases, i), field('shortest_run'))) \
        with linespoints linetype i linewidth 2 pointtype 4 + 2 * i pointsize 0.6
    set tmargin at screen 0.32; set bmargin at screen 0.11
    set ylabel 'lowest tap ['.unit_in(heads, 'lowest_tap_pressure').']'
    set format x '%g'
    set xlabel 'precharge of the empty tank ['.pressure.', gauge]'
    eval measure('lowest_tap_pressure')
    eval mark(1.1 * y_max)
    plot for [i = 1:3] file using (field('tank.precharge')):(with_gas(word(gases, i), field('lowest_tap_pressure'))) \
        with linespoints linetype i linewidth 2 pointtype 4 + 2 * i pointsize 0.6
    unset multiplot
    unset output
    set key at screen 0.52, 0.93 center horizontal samplen 4
}
