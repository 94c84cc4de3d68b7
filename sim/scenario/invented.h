/* What a new scenario tells where no item has a default: invented houses. */
#ifndef PD_SCENARIO_INVENTED_H
#define PD_SCENARIO_INVENTED_H

#include <pumpday/scenario.h>

/* A tap opened for so many seconds, or until a volume is drawn. */
struct invented_draw {
    const char *time;
    double flow; /* L/min */
    const char *duration;
    double volume; /* L; NAN: it ends by its duration */
    const char *fixture;
};

extern const struct invented_draw invented_draws[];
extern const size_t invented_draw_count;

/* An item that has no default, or another value than that. */
struct invented_item {
    enum pd_item item;
    const char *value, *unit;
};

/* The value of an item in a house of a kind; NULL where its default will do. */
const struct invented_item *invented_item(enum pd_template_kind kind, enum pd_item item);

/* The pump's points: flow L/min, head m, power W, required NPSH m (NAN: not told). */
typedef double invented_point[4];
const invented_point *invented_pump(enum pd_template_kind kind, size_t *count);

#endif
