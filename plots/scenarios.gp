# Several scenarios side by side: energy of a day, starts in the worst hour, lowest tap pressure, a bar
# for each strategy.  What does not fit is hatched.
# needs: scenarios.csv
out = ARG1
load 'common.gp'

heads = heads_of('scenarios.csv')
tap = head_in(heads, 'lowest_tap_pressure')

# scenarios and strategies in the order of their first rows; the rows over all are called `all`
array name_of[17]
array strategy_of[8]
do for [i = 1 : 17] { name_of[i] = '' }
do for [i = 1 : 8] { strategy_of[i] = '' }
names = 0; strategy_count = 0
place_of_name(text) = (sum [i = 1 : names] (name_of[i] eq text ? i : 0))
place_of_strategy(text) = (sum [i = 1 : strategy_count] (strategy_of[i] eq text ? i : 0))
note_name(text) = place_of_name(text) > 0 || names == 17 ? 0 : (names = names + 1, name_of[names] = text, 0)
note_strategy(text) = place_of_strategy(text) > 0 || strategy_count == 8 ? 0 : \
    (strategy_count = strategy_count + 1, strategy_of[strategy_count] = text, 0)
stats 'scenarios.csv' using (note_name(strcol('scenario')), note_strategy(strcol('strategy')), 0) nooutput
# the last are the rows over all
shown = most(1, names - 1)

width = 0.8 / strategy_count
set boxwidth 0.9 * width
set xrange [0.5 : shown + 0.5]
# names that would run into each other stand aslant
longest = 0
do for [i = 1 : shown] { longest = most(longest, strlen(unguarded(name_of[i]))) }
aslant = longest * shown > 40
set xtics scale 0 ('' 0) noenhanced
do for [i = 1 : shown] { label_text = unguarded(name_of[i]); set xtics add (label_text i) }
if (aslant) { set xtics rotate by 20 right }
unset grid
set grid y linetype -1 linecolor rgb '#E4E4E4' linewidth 0.7 dashtype 1

fits_here(unused) = strcol('verdict') eq 'ok'
bar_at(i) = strcol('strategy') eq strategy_of[i] && place_of_name(strcol('scenario')) <= shown ? \
    place_of_name(strcol('scenario')) + (i - 0.5 * (strategy_count + 1)) * width : NaN
height(name) = column(name)
misfit(name) = fits_here(0) ? NaN : column(name)
bars = "for [i = 1 : strategy_count] 'scenarios.csv' using (bar_at(i)):(height(name)) with boxes linetype i linewidth 0.8 dashtype 1 fillstyle solid bar_fill(i) title (told ? strategy_of[i] : ''), ". \
    "for [i = 1 : strategy_count] '' using (bar_at(i)):(misfit(name)) with boxes linecolor rgb black linewidth 0.8 dashtype 1 fillstyle transparent pattern 5 notitle"

do for [kind in kinds] {
    eval open_picture(kind, 'scenarios', 1000, aslant ? 520 : 470)
    set multiplot layout 1, 3 title 'scenarios compared: a day of each; what does not fit is hatched' noenhanced \
        margins 0.075, 0.985, (aslant ? 0.2 : 0.1), 0.8 spacing 0.08, 0
    set key at screen 0.5, 0.9 center top horizontal maxrows 1 samplen 2 noenhanced
    set style fill solid 1.0 border linecolor rgb black
    told = 1
    name = 'energy [kWh]'
    set ylabel 'energy of the day [kWh]'
    set yrange [0 : *]
    plot @bars
    told = 0
    name = 'starts_in_worst_hour'
    set ylabel 'starts in the worst hour'
    plot @bars
    name = tap
    set ylabel 'lowest tap pressure ['.unit_in(heads, 'lowest_tap_pressure').']'
    set yrange [* < 0 : *]
    plot @bars
    unset multiplot
    unset output
}
