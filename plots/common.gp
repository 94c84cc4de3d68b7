# What the scripts share: how to read the files of `pumpday compare`, and how charts look.
# Change it and every chart changes.  The scripts are for gnuplot 5.4 or later; to run one by hand:
#   cd out/demo && GNUPLOT_LIB=../../plots gnuplot ../../plots/day.gp
# or all at once: pumpday plot out/demo

set encoding utf8
set datafile separator comma
set datafile columnheaders
# an empty field, or a number that is not there, makes no point and does not break a line
set datafile missing NaN

# what is put before the names of the pictures; `pumpday plot` gives it as the first argument
if (!exists("out")) out = ''

# --- reading ---------------------------------------------------------------------------------
# What a file says is data: gnuplot or the shell would run a backquote, `@`, `$(...)` or the end of a
# quote in it.  So no text of a file, nor its name, gets into what `eval`, a macro or `system` is
# given: those take constant text and numbers; texts of files stay in variables.

# a word for the shell, whatever is in it
shell_word(text) = "'".escaped(text)."'"
escaped(text) = (at = strstrt(text, "'"), at == 0 ? text : text[1 : at - 1]."'\\''".escaped(text[at + 1 : *]))
# The first line of a file; NAME [UNIT] in it tells the unit.
heads_of(file) = ','.system('head -n 1 -- '.shell_word(file).' 2>/dev/null').','
unit_in(heads, name) = (at = strstrt(heads, ','.name.' ['), at == 0 ? '' : \
    (tail = heads[at + strlen(name) + 3 : *], tail[1 : strstrt(tail, ']') - 1]))
# its place, for a file of many rows: column(3) is found sooner than column('supply_pressure [kPa]')
place_in(heads, name) = 1 + commas_in(heads[2 : strstrt(heads, ','.head_in(heads, name).',')])
commas_in(text) = (sum [i = 1 : strlen(text)] (text[i:i] eq ',' ? 1 : 0))
# the whole head of a column, as column() and strcol() want it
head_in(heads, name) = (u = unit_in(heads, name), u eq '' ? name : name.' ['.u.']')
# a text without the apostrophe that keeps a spreadsheet from running it
bare(text) = text[1:1] eq "'" ? bare(text[2:*]) : text
unguarded(text) = text[1:1] eq "'" && strlen(bare(text)) > 0 && strstrt('-=+@', bare(text)[1:1]) > 0 ? text[2:*] : text
# a field as a number
value_of(text) = text eq '' ? NaN : text + 0

# Folders that share this one's axes stand beside it, `do for [k = 0 : others] { from = folder_of(k); ... }`
# goes through all of them, this one first: `eval` of what is below reads in the folder `from`.
if (!exists("others")) others = 0
folder_of(k) = k == 0 ? '' : sprintf('%s%d/', out, k)
from = ''

# settings.csv: the strategies in their order, the title (the last column), the units; all of them
# empty in a folder that has none
settings_heads = heads_of('settings.csv')
strategies_of(file) = system('tail -n +2 -- '.shell_word(file)." 2>/dev/null | cut -d , -f 1 | grep -x '[a-z-]*'")
strategies_in(folder) = strategies_of(folder.'settings.csv')
# a title that is the last of so many columns, of the first row
title_of(file, columns) = unguarded(system('sed -n 2p -- '.shell_word(file).' 2>/dev/null | cut -d , -f '.columns. \
    "- | sed 's/^\"//; s/\"$//; s/\"\"/\"/g'"))
strategies = strategies_in('')
strategy_count = words(strategies)
settings_columns = commas_in(settings_heads) - 1
title_text = title_of('settings.csv', settings_columns)
pressure_unit = unit_in(settings_heads, 'start_pressure')
flow_unit = unit_in(settings_heads, 'start_flow')

# `eval settings_of('peak-only')` sets start_pressure, precharge, ...; NaN where it has none
settings_of(strategy) = (settings_wanted = strategy, \
    "stats from.'settings.csv' using (strcol('strategy') eq settings_wanted ? take_settings(0) : 1) nooutput")
take_settings(unused) = (start_pressure = setting('start_pressure'), stop_pressure = setting('stop_pressure'), \
    start_flow = setting('start_flow'), stop_flow = setting('stop_flow'), \
    run_on = setting('run_on'), precharge = setting('precharge'), \
    tap_limit = setting('tap_limit'), starts_limit = setting('starts_limit'), water_asked = setting('water_asked'), 1)
# (of a column that an older file lacks too)
has_column(heads, name) = strstrt(heads, ','.name.' [') > 0 || strstrt(heads, ','.name.',') > 0
setting(name) = has_column(settings_heads, name) ? value_of(strcol(head_in(settings_heads, name))) : NaN

# What summary.csv finds of each strategy, by its place: `eval read_verdicts`, then fits(i), verdict(i).
array verdict_text[8]
do for [i = 1 : 8] { verdict_text[i] = '' }
read_verdicts = "do for [i = 1 : strategy_count] { \
    stats 'summary.csv' using (strcol('strategy') eq word(strategies, i) ? (verdict_text[i] = strcol('verdict'), 0) : 0) nooutput }"
fits(i) = verdict_text[i][1 : 2] eq 'ok'
verdict(i) = fits(i) ? 'fits' : 'does not fit: '.verdict_text[i]
# to stand behind a strategy's name in a key
mark(i) = fits(i) ? '' : ' (does not fit)'

# the place of a strategy among them, 0 where it is none of them
index_of(strategy) = (sum [i = 1 : strategy_count] (word(strategies, i) eq strategy ? i : 0))

least(a, b) = a < b ? a : b
most(a, b) = a > b ? a : b

# the points of one strategy among those of all
of(strategy, value) = strcol('strategy') eq strategy ? value : NaN

# Curves: what moves one by less than it is thick is left out, but for a point every so often; such
# points make no gap.  `eval begin_curves` before each plot; i is a number of the curve's own, 1 to 8.
array curve_time[8]
array curve_value[8]
begin_curves = "do for [i = 1 : 8] { curve_time[i] = -1e9; curve_value[i] = -1e9 }"
thinned(i, time, value, gap, step) = time - curve_time[i] < gap && abs(value - curve_value[i]) < step ? NaN : \
    (curve_time[i] = time, curve_value[i] = value)

# a straight line needs two points
set samples 2

# --- looks -----------------------------------------------------------------------------------
# Colours that colour-blind readers tell apart: M. Okabe, K. Ito, Color Universal Design, 2008.
# Dashes, weights and fills tell lines and bars apart in black and white too.
black = '#000000'; orange = '#E69F00'; sky = '#56B4E9'; green = '#009E73'
yellow = '#F0E442'; blue = '#0072B2'; vermillion = '#D55E00'; purple = '#CC79A7'
bad = '#A34700'; good = '#005A8C'
grey = '#7F7F7F'; shade = '#CADDEE'

# a line, a dash and a fill for each strategy, by its place in settings.csv
set linetype 1 linecolor rgb blue linewidth 2.4 dashtype 1
set linetype 2 linecolor rgb vermillion linewidth 2.4 dashtype (10, 4)
set linetype 3 linecolor rgb green linewidth 2.4 dashtype (3, 3)
bar_fill(i) = i == 1 ? 1.0 : i == 2 ? 0.5 : 0.15

set grid linetype -1 linecolor rgb '#E4E4E4' linewidth 0.7 dashtype 1
set border 3 linecolor rgb '#404040'
set tics nomirror textcolor rgb black
set key noenhanced

# Pictures come as SVG and as PNG: `do for [kind in kinds] { eval open_picture(kind, 'day', 1000, 640) ... }`
if (!exists("kinds")) kinds = 'svg png'
open_picture(kind, name, width, height) = (picture_name = out.name.'.'.kind, sprintf(kind eq 'svg' ? \
    "set terminal svg size %d, %d dynamic background rgb 'white' font 'Helvetica,13'; set output picture_name" : \
    "set terminal pngcairo size %d, %d background rgb 'white' font 'Sans,10'; set output picture_name", \
    width, height))
# a font for the line over a picture of several panels
title_font(kind) = kind eq 'svg' ? ',16' : ',12'
