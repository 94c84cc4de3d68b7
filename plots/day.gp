# The day of each strategy: pressures above, flows below, the pump's runs shaded.
# needs: trace.csv cycles.csv settings.csv
out = ARG1
load 'common.gp'

heads = heads_of('trace.csv')
field(name) = column(head_in(heads, name))
hour = 3600.0

# one scale for all strategies, so that they can be laid side by side
least(a, b) = a < b ? a : b
most(a, b) = a > b ? a : b
low = 0; high = 0; flow_high = 0.1
stats 'trace.csv' using (low = least(low, least(field('tap_pressure'), field('supply_pressure'))), \
    high = most(high, field('header_pressure')), \
    flow_high = most(flow_high, most(field('demand_flow'), field('pump_flow')))) nooutput
high = 1.05 * high
flow_high = 1.08 * flow_high

set xrange [0:24]
set xtics 2 format '%02.0f:00'
set mxtics 2
set style fill solid 1.0 noborder
set key at graph 1, 1.03 right bottom horizontal reverse Left samplen 2.5
set lmargin 9
set rmargin 3
# a run of seconds is drawn a minute wide, still to be seen
runs = "'cycles.csv' using (of(strategy, column('start [s]') / hour)):(0):(column('start [s]') / hour)". \
    ":((column('start [s]') + most(column('run_time [s]'), 60)) / hour):(bottom):(top)". \
    " with boxxyerror fillcolor rgb shade title 'pump on'"
at_hour = "(column('time [s]') / hour)"

thin(i, strategy, name, step) = strcol('strategy') ne strategy ? NaN : \
    thinned(i, column('time [s]'), field(name), 120, step)

do for [strategy in strategies] {
    eval settings_of(strategy)
    do for [kind in kinds] {
        eval open_picture(kind, 'day-'.strategy, 1000, 640)
        set multiplot
        set label 1 title_text.': the day under '.strategy at screen 0.5, 0.965 center noenhanced font title_font(kind)
        # pressures
        set tmargin at screen 0.87
        set bmargin at screen 0.46
        bottom = low; top = high
        set yrange [bottom:top]
        set ylabel 'pressure ['.pressure_unit.']'
        unset xlabel
        eval begin_curves
        plot @runs, \
            'trace.csv' using @at_hour:(thin(1, strategy, 'supply_pressure', (top - bottom) / 180)) with lines linecolor rgb grey linewidth 2 dashtype (8, 4) title 'supply', \
            '' using @at_hour:(thin(2, strategy, 'tap_pressure', (top - bottom) / 180)) with lines linecolor rgb orange linewidth 1 dashtype 1 title 'at the taps', \
            '' using @at_hour:(thin(3, strategy, 'header_pressure', (top - bottom) / 180)) with lines linecolor rgb blue linewidth 1.6 dashtype 1 title 'header', \
            tap_limit with lines linecolor rgb black linewidth 1 dashtype (2, 3) title 'tap limit'
        # flows
        set tmargin at screen 0.37
        set bmargin at screen 0.115
        bottom = 0; top = flow_high
        set yrange [bottom:top]
        unset label 1
        set ylabel 'flow ['.flow_unit.']'
        set xlabel 'time of day'
        plot @runs, \
            'trace.csv' using @at_hour:(thin(4, strategy, 'demand_flow', top / 90)) with lines linecolor rgb orange linewidth 1.6 dashtype 1 title 'taps and leak', \
            '' using @at_hour:(thin(5, strategy, 'pump_flow', top / 90)) with lines linecolor rgb blue linewidth 0.8 dashtype 1 title 'through the pump'
        unset multiplot
        unset output
    }
}
