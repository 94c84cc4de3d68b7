# The precharge lesson: starts and runs against the size of the tank.
# needs: lesson-tank-size.csv
out = ARG1
load 'common.gp'

file = 'lesson-tank-size.csv'
heads = heads_of(file)
volume = unit_in(heads, 'tank.volume')
field(name) = column(head_in(heads, name))
pressure = unit_in(heads, 'lowest_tap_pressure')
load 'lesson_common.gp'

set lmargin 10
set rmargin 3
set xtics 10
unset key
line = "with linespoints linecolor rgb blue linewidth 2 dashtype 1 pointtype 7 pointsize 0.6"

do for [kind in kinds] {
    eval open_picture(kind, 'lesson-tank-size', lesson_width, lesson_height)
    set multiplot title 'The precharge lesson: by the rule of thumb, and only the size of the tank changes' offset 0, -0.3
    set xrange [0:*]
    set yrange [0:*]
    set format x ''
    unset xlabel
    set tmargin at screen 0.91; set bmargin at screen 0.67
    set ylabel 'drawdown ['.unit_in(heads, 'drawdown').']'
    plot file using (field('tank.volume')):(field('drawdown')) @line
    set tmargin at screen 0.63; set bmargin at screen 0.39
    set ylabel 'starts in worst hour'
    eval most_starts(0)
    plot file using (field('tank.volume')):(field('starts_in_worst_hour')) @line
    eval no_most_starts
    set tmargin at screen 0.35; set bmargin at screen 0.11
    set ylabel 'shortest run [s]'
    set format x '%g'
    set xlabel 'volume of the tank ['.volume.']'
    plot file using (field('tank.volume')):(field('shortest_run')) @line
    unset multiplot
    unset output
}
