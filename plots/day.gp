# The day of each strategy: pressures above, flows below, the pump's runs shaded and, in a strip
# between them, drawn each by itself.
# needs: trace.csv cycles.csv summary.csv settings.csv
out = ARG1
load 'common.gp'

heads = heads_of('trace.csv')
time = place_in(heads, 'time')
supply = place_in(heads, 'supply_pressure')
taps = place_in(heads, 'tap_pressure')
header = place_in(heads, 'header_pressure')
drawn = place_in(heads, 'demand_flow')
pumped = place_in(heads, 'pump_flow')
hour = 3600.0

# one scale for all strategies and folders, so that they can be laid side by side
low = 0; high = 0; flow_high = 0.1
do for [k = 0 : others] {
    stats folder_of(k).'trace.csv' using (low = least(low, least(column(taps), column(supply))), \
        high = most(high, column(header)), \
        flow_high = most(flow_high, most(column(drawn), column(pumped)))) nooutput
}
high = 1.05 * high
flow_high = 1.08 * flow_high

set xrange [0:24]
set xtics 2 format '%02.0f:00'
set mxtics 2
set style fill solid 1.0 noborder
set key at graph 1, 1.03 right bottom horizontal reverse Left samplen 2.5
set lmargin 9
set rmargin 3
eval read_verdicts

# a run of seconds is drawn a dot wide, still to be seen, and ends a dot before the next if it can
dot = 90; gap = 45
array begun[1]
runs = "'cycles.csv' using (of(strategy, column('start [s]') / hour)):(0):(column('start [s]') / hour)". \
    ":((column('start [s]') + most(column('run_time [s]'), dot)) / hour):(bottom):(top)". \
    " with boxxyerror fillcolor rgb shade"
count_runs = "runs_counted = 0; stats 'cycles.csv' using (strcol('strategy') eq strategy ? (runs_counted = runs_counted + 1, 0) : 0) nooutput"
note_runs = "array begun[runs_counted + 1]; k = 0; \
    stats 'cycles.csv' using (strcol('strategy') eq strategy ? (k = k + 1, begun[k] = column('start [s]'), 0) : 0) nooutput; \
    begun[runs_counted + 1] = 2 * 86400"
mark_end(start, run_time) = (k = k + 1, least(start + most(run_time, dot), begun[k + 1] - least(gap, (begun[k + 1] - start) / 2)))
marks = "'cycles.csv' using (of(strategy, column('start [s]') / hour)):(0):(column('start [s]') / hour)". \
    ":(strcol('strategy') eq strategy ? mark_end(column('start [s]'), column('run_time [s]')) / hour : NaN):(0):(1)". \
    " with boxxyerror fillcolor rgb black"
# The curves of all strategies, read once: rows that move any curve, and which; most move none.  (What
# gnuplot works out for each row and column costs far more than reading them: hence columns as they stand.)
strategy_read = ''
rows = 0
array first_row[strategy_count]
array last_row[strategy_count]
none = 2 ** 30
do for [s = 1 : strategy_count] { first_row[s] = none; last_row[s] = none }
moves(i, place, step) = (value = column(place), thinned(i, column(time), value, 120, step) == value ? 2 ** (i - 1) : 0)
begin_strategy(strategy) = strategy eq strategy_read ? 0 : \
    (strategy_read = strategy, shown = index_of(strategy), begin_times(0), shown > 0 ? (first_row[shown] = rows) : 0)
begin_times(unused) = (sum [i = 1 : 5] (curve_time[i] = -1e9, 0))
note_row(unused) = (begin_strategy(strcol('strategy')), moved = moves(1, supply, (high - low) / 180) + \
    moves(2, taps, (high - low) / 180) + moves(3, header, (high - low) / 180) + \
    moves(4, drawn, flow_high / 90) + moves(5, pumped, flow_high / 90), \
    moved > 0 ? (rows = rows + 1, shown > 0 ? (last_row[shown] = rows - 1) : 0) : 0, moved)
set print $rows
print 'moved,hour,supply,taps,header,drawn,pumped'
unset print
set table $rows append separator comma
plot 'trace.csv' using (note_row(0)):(column(time) / hour):supply:taps:header:drawn:pumped with table if (moved)
unset table
# the points of curve i of strategy s
take(block, i) = sprintf("set print %s; print 'hour,value'; unset print; set table %s append separator comma; \
    plot $rows every ::first_row[s]::last_row[s] using 2:%d with table if (int(column(1)) & %d); unset table", \
    block, block, i + 2, 2 ** (i - 1))

do for [s = 1 : strategy_count] {
    strategy = word(strategies, s)
    eval settings_of(strategy)
    eval count_runs
    eval note_runs
    eval take('$supply', 1)
    eval take('$taps', 2)
    eval take('$header', 3)
    eval take('$drawn', 4)
    eval take('$pumped', 5)
    do for [kind in kinds] {
        eval open_picture(kind, 'day-'.strategy, 1000, 640)
        set multiplot
        set label 1 title_text.': the day under '.strategy at screen 0.5, 0.972 center noenhanced font title_font(kind)
        set label 2 verdict(s) at screen 0.5, 0.932 center noenhanced textcolor rgb (fits(s) ? good : bad)
        # pressures
        set tmargin at screen 0.86
        set bmargin at screen 0.49
        bottom = low; top = high
        set yrange [bottom:top]
        set ylabel 'pressure ['.pressure_unit.']'
        set format x ''
        unset xlabel
        plot @runs notitle, \
            $supply using 1:2 with lines linecolor rgb grey linewidth 2 dashtype (8, 4) title 'supply', \
            $taps using 1:2 with lines linecolor rgb orange linewidth 1 dashtype 1 title 'at the taps', \
            $header using 1:2 with lines linecolor rgb blue linewidth 1.6 dashtype 1 title 'header', \
            tap_limit with lines linecolor rgb black linewidth 1 dashtype (2, 3) title 'tap limit'
        unset label 1
        unset label 2
        # the pump
        set tmargin at screen 0.47
        set bmargin at screen 0.435
        bottom = 0; top = 1
        set yrange [0:1]
        unset ylabel
        unset ytics
        unset mxtics
        set label 3 sprintf('pump: %d run%s', runs_counted, runs_counted == 1 ? '' : 's') at screen 0.072, 0.42 left
        k = 0
        plot @marks notitle
        unset label 3
        set ytics nomirror
        set mxtics 2
        # flows
        set tmargin at screen 0.365
        set bmargin at screen 0.115
        set format x '%02.0f:00'
        bottom = 0; top = flow_high
        set yrange [bottom:top]
        set ylabel 'flow ['.flow_unit.']'
        set xlabel 'time of day'
        plot @runs title 'pump on', \
            $drawn using 1:2 with lines linecolor rgb orange linewidth 1.6 dashtype 1 title 'taps and leak', \
            $pumped using 1:2 with lines linecolor rgb blue linewidth 0.8 dashtype 1 title 'through the pump'
        unset multiplot
        unset output
    }
}
