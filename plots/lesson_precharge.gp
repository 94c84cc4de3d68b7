# The precharge lesson: what the tank gives, and what it costs, against its precharge.
# needs: lesson-precharge.csv
out = ARG1
load 'common.gp'

file = 'lesson-precharge.csv'
heads = heads_of(file)
pressure = unit_in(heads, 'tank.precharge')
field(name) = column(head_in(heads, name))
load 'lesson_common.gp'

# the start pressure stands in every row; the rule of thumb is 2 psi under it (common practice)
stats file using (start = field('start_pressure')) nooutput
stats file using (field('tank.precharge')) name 'x' nooutput
rule = start - rule_under

set xrange [x_min:x_max]
set xtics is_us ? 5 : 50
set mxtics 5
unset key
line = "with linespoints linecolor rgb blue linewidth 2.4 dashtype 1 pointtype 7 pointsize 0.5"

# `eval panel(1, 'drawdown', 'label')`: the place of a panel in two rows of two, its scale, and the
# marks within
panel(i, name, label) = (panel_name = name, panel_label = label, \
    sprintf("set lmargin at screen %g; set rmargin at screen %g; set tmargin at screen %g; set bmargin at screen %g; ". \
    "set yrange [*:*]; stats file using (field(panel_name)) name 'y' nooutput; top = 1.12 * y_max; ". \
    "set yrange [0:top]; set ylabel panel_label offset 1, 0; ". \
    "set object 1 rectangle from start, 0 to x_max, top fillcolor rgb shade fillstyle solid noborder behind; ". \
    "set arrow 1 from start, 0 to start, top nohead linecolor rgb grey linewidth 1.5; ". \
    "set arrow 2 from rule, 0 to rule, top nohead linecolor rgb vermillion linewidth 2.4 dashtype (4, 3)", \
    i % 2 == 1 ? 0.065 : 0.565, i % 2 == 1 ? 0.475 : 0.975, i <= 2 ? 0.815 : 0.435, i <= 2 ? 0.51 : 0.13))

do for [kind in kinds] {
    eval open_picture(kind, 'lesson-precharge', lesson_width, lesson_height)
    set multiplot
    set label 20 'The precharge lesson: one tank, one day, and only the precharge changes' at screen 0.5, 0.965 center font title_font(kind)
    set format x ''
    unset xlabel
    eval panel(1, 'drawdown', 'drawdown ['.unit_in(heads, 'drawdown').']')
    eval other_unit(1)
    set label 1 'rule of thumb: 2 psi under start' at rule, graph 0.96 right offset -0.8, 0 textcolor rgb vermillion
    set label 2 'start pressure' at start, graph 0.96 left offset 0.5, 0 textcolor rgb '#404040'
    set label 3 "tank empty\nwhen the pump starts" at 0.5 * (start + x_max), 0.2 * top center textcolor rgb '#404040'
    plot file using (field('tank.precharge')):(field('drawdown')) @line
    unset label
    eval panel(2, 'starts_in_worst_hour', 'starts in worst hour')
    eval most_starts(0)
    plot file using (field('tank.precharge')):(field('starts_in_worst_hour')) @line
    eval no_most_starts
    eval other_unit(0)
    set format x '%g'
    set xlabel 'precharge of the empty tank ['.pressure.', gauge]'
    eval panel(3, 'shortest_run', 'shortest run [s]')
    plot file using (field('tank.precharge')):(field('shortest_run')) @line
    eval panel(4, 'lowest_tap_pressure', 'lowest tap ['.unit_in(heads, 'lowest_tap_pressure').']')
    set label 3 'the taps stutter' at 0.5 * (start + x_max), 0.65 * top center textcolor rgb '#404040'
    plot file using (field('tank.precharge')):(field('lowest_tap_pressure')) @line
    unset label
    unset multiplot
    unset output
}
