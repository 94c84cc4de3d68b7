/* The parts in which a commissioning sheet's content is filled. */
#ifndef PUMPDAY_PRESENT_SHEET_PARTS_H
#define PUMPDAY_PRESENT_SHEET_PARTS_H

#include "present/sheet_content.h"

/* The content while it is filled. */
struct filler {
    struct sheet_content *content;
    const struct pd_scenario *scenario;
    const struct pd_sheet *sheet;
    enum pd_unit_system units;
};

/* A quantity in the units of the sheet, into text, which it returns; degrees have a sign of their
 * own. */
const char *sheet_amount(char text[SHEET_VALUE_MOST], const struct filler *filler,
                         enum pd_kind kind, double si);

/* A pressure likewise, as there are so many. */
const char *sheet_pressure(char text[SHEET_VALUE_MOST], const struct filler *filler, double si);

/* The control is a two-pressure switch: it stops by pressure, not by flow. */
bool sheet_is_switch(const struct filler *filler);

/* A precharge that must not be set: over the tank's rating, or not under the start pressure. */
bool sheet_precharge_is_wrong(const struct filler *filler);

/* Why not to put it into service, and what was warned of. */
void sheet_fill_reasons(struct filler *filler);

/* The order of work. */
void sheet_fill_steps(struct filler *filler);

/* The leak test: what to do, and what each outcome means. */
void sheet_fill_leak_test(struct filler *filler);

#endif
