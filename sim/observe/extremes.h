/* Lowest and highest pressures of a day, and how short of head the pump's inlet is. */
#ifndef PUMPDAY_EXTREMES_H
#define PUMPDAY_EXTREMES_H

#include "observe/suction.h"

struct extremes {
    struct pd_day_result *result;
    struct suction suction;
    double before, middle; /* Pa, header one and two steps ago; NAN after an event */
    double before_time, middle_time;
    double inlet; /* Pa, suction pressure a step ago; NAN if no water flowed */
};

struct observer extremes_observer(struct extremes *extremes, struct pd_day_result *result);

#endif
