# Many days: for each strategy the share of days on which a figure is so much or less, with the limits.
# A curve that rises on the far side of a limit shows how many days break it, and by how much.
# needs: days.csv days-summary.csv
out = ARG1
load 'common.gp'

load 'days_common.gp'
if (days_are_old) { exit }

heads = heads_of('days.csv')
strategy_at = place_in(heads, 'strategy')
figure_of(i, name) = strcol(strategy_at) eq word(strategies, i) ? column(place_in_heads[name_place(name)]) : NaN
# the figures drawn, a panel each: what they are called, where they stand
names = 'starts_in_worst_hour starts shortest_run shortest_rest lowest_tap_pressure energy'
called = '"starts in the worst hour" "starts in the day" "shortest run" "shortest rest" "lowest tap pressure" "energy"'
panels = words(names)
array place_in_heads[panels]
do for [k = 1 : panels] { place_in_heads[k] = place_in(heads, word(names, k)) }
name_place(name) = (sum [k = 1 : panels] (word(names, k) eq name ? k : 0))
axis_text(name, text) = unit_in(heads, name) eq '' ? text : text.' ['.unit_in(heads, name).']'

# "6 of 100 days fail (3 to 12 %)"
percent(share) = sprintf(share < 0.1 ? '%.2g' : '%.0f', 100 * share)
told(i) = sprintf('%s: %d of %d days fail (%s to %s %% of all)', word(strategies, i), failing[i], days_run[i], \
    percent(least_share[i]), percent(most_share[i]))

set yrange [0 : 1.02]
set ytics ('0' 0, '25 %%' 0.25, '50 %%' 0.5, '75 %%' 0.75, '100 %%' 1)
set key at screen 0.5, 0.92 center top vertical noenhanced reverse Left samplen 3 maxrows 4
set style textbox noborder

panel(left, low) = sprintf('set lmargin at screen %g; set rmargin at screen %g; set bmargin at screen %g; set tmargin at screen %g', \
    left, left + 0.39, low, low + 0.175)
# a limit as an upright line, within the panel; NaN draws none
limit_of(k) = k == 1 ? starts_limit : k == 5 ? tap_limit : NaN
has_limit(k) = limit_of(k) == limit_of(k) && limit_of(k) < 1e9
limit_line(k) = has_limit(k) ? sprintf('set arrow 1 from %.9g, 0 to %.9g, 1.02 nohead linecolor rgb black linewidth 1.6 dashtype (3, 3) front; set label 3 "limit" at %.9g, 0.06 right offset -0.5, 0 front; set xrange [%s]', \
    limit_of(k), limit_of(k), limit_of(k), k == 1 ? sprintf('0 : %.9g < *', 1.05 * limit_of(k)) : \
    sprintf('* < %.9g : %.9g < *', 0.9 * limit_of(k), 1.1 * limit_of(k))) : \
    'unset arrow 1; unset label 3; set xrange [* : *]'

do for [kind in kinds] {
    eval open_picture(kind, 'days', 1000, 900)
    set multiplot
    set label 1 title_text.': what many days bring' at screen 0.5, 0.975 center noenhanced font title_font(kind)
    set label 2 'curves: the share of days with so much or less' at screen 0.5, 0.945 center textcolor rgb '#404040'
    do for [k = 1 : panels] {
        name = word(names, k)
        eval panel(k % 2 == 1 ? 0.085 : 0.575, 0.64 - 0.285 * ((k - 1) / 2))
        eval limit_line(k)
        set xlabel axis_text(name, word(called, k)) offset 0, 0.4
        plot for [i = 1 : strategy_count] 'days.csv' using (figure_of(i, name)):(1) smooth cnorm linetype i title (k == 1 ? told(i) : '')
        unset label 1
        unset label 2
        unset key
    }
    set key
    unset multiplot
    unset output
}
