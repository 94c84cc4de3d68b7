# One run of the pump under each strategy, closely: pressures, flows, the tank's water, the speed.
# Shaded while the motor is on; bars at the foot tell when the motor is on and the check valve open.
# needs: zoom.csv cycles.csv settings.csv
out = ARG1
load 'common.gp'

heads = heads_of('zoom.csv')
volume_unit = unit_in(heads, 'tank_water')
time = place_in(heads, 'time')
header = place_in(heads, 'header_pressure')
taps = place_in(heads, 'tap_pressure')
inlet = place_in(heads, 'suction_pressure')
pumped = place_in(heads, 'pump_flow')
drawn = place_in(heads, 'demand_flow')
water = place_in(heads, 'tank_water')
speed = place_in(heads, 'speed')
motor = place_in(heads, 'pump')
valve = place_in(heads, 'check_valve')
clock(t) = sprintf('%02d:%02d:%02d', int(t) / 3600, int(t) % 3600 / 60, int(t) % 60)

# the panels of all pictures have one range each, so that they can be laid side by side
low = 1e9; high = -1e9; flow_low = 0; flow_high = 0.1; wet_low = 1e9; wet_high = -1e9
note_row(unused) = (low = least(low, least(column(inlet), column(taps))), \
    high = most(high, column(header)), \
    flow_low = least(flow_low, least(column(pumped), column(drawn))), \
    flow_high = most(flow_high, most(column(pumped), column(drawn))), \
    wet_low = least(wet_low, column(water)), wet_high = most(wet_high, column(water)), 1)
do for [k = 0 : others] {
    from = folder_of(k)
    stats from.'zoom.csv' using (note_row(0)) nooutput
    do for [strategy in strategies_in(from)] {
        eval settings_of(strategy)
        if (precharge == precharge) { low = least(low, precharge) }
        if (start_pressure == start_pressure) { low = least(low, start_pressure); high = most(high, start_pressure) }
        if (stop_pressure == stop_pressure) { high = most(high, stop_pressure) }
    }
}

# what the rows of a strategy span
span = "rows = 0; first = 1e9; last = -1e9; \
    stats from.'zoom.csv' using (strcol('strategy') eq strategy ? note_time(column(time)) : 1) nooutput"
note_time(time) = (rows = rows + 1, first = least(first, time), last = most(last, time), 1)

# the run shown is the one nearest to the middle; when it was up to speed
find_run = "on = first; off = last; nearest = 1e9; \
    stats from.'cycles.csv' using (strcol('strategy') eq strategy ? note_run(column('start [s]'), column('run_time [s]')) : 1) nooutput; \
    up = last; \
    stats from.'zoom.csv' using (strcol('strategy') eq strategy ? note_speed(column(time), column(speed)) : 1) nooutput"
note_run(start, run_time) = (middle_of_run = start + run_time / 2 - (first + last) / 2, \
    abs(middle_of_run) < nearest ? (nearest = abs(middle_of_run), on = start, off = start + run_time) : 1, 1)

# between two rows 1 - speed falls by a steady rate
note_speed(time, speed) = (time > on && speed >= 0.95 && up == last ? (up = between_rows(time, speed)) : 1, \
    time_before = time, speed_before = speed, 1)
between_rows(time, speed) = speed_before >= 0.95 || speed >= 1 ? time : \
    time_before + (time - time_before) * log((1 - speed_before) / 0.05) / log((1 - speed_before) / (1 - speed))
time_before = 0; speed_before = 0

set lmargin 13
set rmargin 4
set style fill solid 1.0 noborder
set key at graph 1, 1.01 right bottom horizontal reverse Left samplen 2.5
set mxtics 2
# the rows of a strategy, their time from its start of the pump, and their curves
take_rows = "set print $rows; print 'time,header,taps,inlet,pumped,drawn,water,speed,motor,valve'; unset print; \
    set table $rows append separator comma; \
    plot 'zoom.csv' using (column(time) - on):header:taps:inlet:pumped:drawn:water:speed:motor:valve \
        with table if (strcol('strategy') eq strategy); unset table"
thin(i, name) = thinned(i, column('time'), column(name), (last - first) / 300, (top - bottom) / 400)
# runs of the pump, the others that fall into the window too
within(start, run_time) = start < last && start + run_time > first ? start - on : NaN
runs = "'cycles.csv' using (of(strategy, within(column('start [s]'), column('run_time [s]')))):(0):(most(first, column('start [s]')) - on)". \
    ":(least(last, column('start [s]') + column('run_time [s]')) - on):(bottom):(top)". \
    " with boxxyerror fillcolor rgb shade"
# a bar as high while a column of ones and noughts is one, else flat
bar_top(i, name, y) = thinned(i, column('time'), column(name) == 1 ? y + 0.14 : y, (last - first) / 250, 0.1)

# one range of time too, unless the shortest picture would be lost in it
earliest = 0; latest = 0; shortest = 1e9
do for [k = others : 0 : -1] {
    from = folder_of(k)
    do for [strategy in strategies_in(from)] {
        eval span
        if (rows > 1) {
            eval find_run
            earliest = least(earliest, first - on); latest = most(latest, last - on)
            shortest = least(shortest, last - first)
        }
    }
}
own_time = latest - earliest > 5 * shortest

do for [strategy in strategies] {
    eval settings_of(strategy)
    eval span
    # a strategy under which no run began and ended has no picture
    if (rows > 1) {
        eval find_run
        eval take_rows
        do for [kind in kinds] {
            eval open_picture(kind, 'cycle-'.strategy, 1000, 920)
            set multiplot
            set xrange [own_time ? first - on : earliest : own_time ? last - on : latest]
            set label 1 sprintf('%s: a pump cycle under %s, begun at %s', title_text, strategy, clock(on)) \
                at screen 0.5, 0.975 center noenhanced font title_font(kind)
            # pressures
            set tmargin at screen 0.92
            set bmargin at screen 0.64
            bottom = low - 0.08 * (high - low)
            top = high + 0.08 * (high - low)
            set yrange [bottom:top]
            set ytics autofreq
            set format x ''
            set ylabel 'pressure ['.pressure_unit.']'
            eval begin_curves
            plot @runs notitle, \
                $rows using 1:(thin(1, 'header')) with lines linecolor rgb blue linewidth 2.2 dashtype 1 title 'header', \
                '' using 1:(thin(2, 'taps')) with lines linecolor rgb orange linewidth 2 dashtype 1 title 'at the taps', \
                '' using 1:(thin(3, 'inlet')) with lines linecolor rgb grey linewidth 2 dashtype (8, 4) title 'pump inlet', \
                start_pressure with lines linecolor rgb black linewidth 1.2 dashtype (12, 4) title (start_pressure == start_pressure ? 'start' : ''), \
                stop_pressure with lines linecolor rgb black linewidth 1.2 dashtype (3, 3) title (stop_pressure == stop_pressure ? 'stop' : ''), \
                precharge with lines linecolor rgb purple linewidth 2.4 dashtype (3, 3) title 'precharge'
            unset label 1
            # flows
            set tmargin at screen 0.59
            set bmargin at screen 0.42
            bottom = 1.15 * flow_low; top = 1.3 * flow_high
            set yrange [bottom:top]
            set ylabel 'flow ['.flow_unit.']'
            if (run_on > 0) {
                set arrow 1 from off - run_on - on, 1.12 * flow_high to off - on, 1.12 * flow_high heads size screen 0.006, 20 linecolor rgb black front
                set label 2 sprintf('run-on %g s', run_on) at off - run_on - on, 1.12 * flow_high right offset -0.8, 0 front
            }
            eval begin_curves
            plot @runs title 'motor on', \
                $rows using 1:(thin(4, 'drawn')) with lines linecolor rgb orange linewidth 2 dashtype 1 title 'taps and leak', \
                '' using 1:(thin(5, 'pumped')) with lines linecolor rgb blue linewidth 2.2 dashtype 1 title 'through the pump', \
                stop_flow with lines linecolor rgb black linewidth 1.2 dashtype (12, 4) title (stop_flow == stop_flow ? 'stop flow' : '')
            unset arrow 1
            unset label 2
            # water in the tank
            set tmargin at screen 0.385
            set bmargin at screen 0.255
            wet_margin = 0.1 * (wet_high - wet_low) + 1e-3
            bottom = wet_low - wet_margin; top = wet_high + wet_margin
            set yrange [bottom:top]
            set ylabel 'tank water ['.volume_unit.']'
            eval begin_curves
            plot @runs notitle, \
                $rows using 1:(thin(6, 'water')) with lines linecolor rgb green linewidth 2.2 dashtype 1 notitle
            # speed, motor and check valve
            set tmargin at screen 0.23
            set bmargin at screen 0.08
            bottom = -0.95; top = 1.2
            set yrange [bottom:top]
            set ytics ('0' 0, '0.5' 0.5, '1' 1, 'motor on' -0.35, 'valve open' -0.7)
            set format x '%g'
            set xlabel 'time from the start of the pump [s]'.(own_time ? ', a range of its own' : '')
            unset ylabel
            set label 3 'speed' at screen 0.038, 0.185 center rotate by 90
            set arrow 1 from up - on, 0.95 to up - on, 0 nohead linecolor rgb black linewidth 1.2 dashtype (2, 3) front
            set label 2 sprintf('run-up, 95 %% after %.2g s', up - on) at up - on, 0.3 left offset 0.8, 0 front
            eval begin_curves
            plot @runs notitle, \
                $rows using 1:(thin(7, 'speed')) with lines linecolor rgb vermillion linewidth 2.2 dashtype 1 notitle, \
                '' using 1:(-0.42):(bar_top(2, 'motor', -0.42)) with filledcurves fillcolor rgb black notitle, \
                '' using 1:(-0.77):(bar_top(3, 'valve', -0.77)) with filledcurves fillcolor rgb blue notitle
            unset arrow 1
            unset label 2
            unset label 3
            unset xlabel
            unset multiplot
            unset output
        }
    }
}
