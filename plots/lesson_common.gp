# What the charts of the precharge lesson share: wide enough for a projector, pressures in kPa and psi,
# the limit of starts.

lesson_width = 1280; lesson_height = 720

# the other unit of pressure, along the top: `eval other_unit(1)` for a panel that has room, 0 for one
# that has none
psi = 6.894757
is_us = pressure eq 'psi'
other = is_us ? 'kPa' : 'psi'
if (is_us) { set link x2 via x * psi inverse x / psi } else { set link x2 via x / psi inverse x * psi }
other_unit(shown) = shown ? \
    "set x2tics out is_us ? 50 : 5 nomirror; set x2label other offset 0, -0.6" : "unset x2tics; unset x2label"
rule_under = is_us ? 2 : 2 * psi

# `eval most_starts(0)` marks the limit in a panel of starts in the worst hour, its words over the line;
# 1: under its left end.  Source: Water Systems Council, tank standard, motors up to 3/4 hp.
most_starts(under) = "set arrow 9 from graph 0, first 15 to graph 1, first 15 nohead linecolor rgb black linewidth 1.5 dashtype (8, 5); ". \
    sprintf("set label 9 '15 an hour: the most for a small motor' at graph %g, first 15 %s offset 0, %g textcolor rgb black", \
        under ? 0.01 : 0.5, under ? 'left' : 'center', under ? -0.7 : 0.6)
no_most_starts = "unset arrow 9; unset label 9"
