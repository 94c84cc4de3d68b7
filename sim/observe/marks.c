/* Copies of a run, each taken where its integrator starts afresh, so that what goes on from there
 * goes on as before to the last digit. */
#include "observe/marks.h"

#include <string.h>

static const double apart = 3600.0; /* s */

static enum pd_answer event(void *context, const struct run *run)
{
    struct marks *marks = context;

    if (!run->rates_changed || run->now < marks->next || marks->count == MARKS_MOST ||
        run->draws.count > MARK_DRAWS_MOST) {
        return PD_GO_ON;
    }
    struct mark *mark = &marks->mark[marks->count++];
    mark->time = run->now;
    mark->draws = run->draws.count;
    memcpy(mark->run, run, sizeof mark->run);
    memcpy(mark->list, run->draws.list, mark->draws * sizeof mark->list[0]);
    marks->next = run->now + apart;
    return PD_GO_ON;
}

struct observer marks_observer(struct marks *marks)
{
    marks->count = 0;
    marks->next = 0.0;
    return (struct observer){.context = marks, .event = event};
}

bool marks_set(const struct marks *marks, double before, struct run *run)
{
    const struct pd_day_options *options = run->options;
    size_t count = marks->count;

    while (count > 0 && marks->mark[count - 1].time >= before) {
        count--;
    }
    if (count == 0) {
        return false;
    }
    const struct mark *mark = &marks->mark[count - 1];
    memcpy(run, mark->run, sizeof mark->run);
    memcpy(run->draws.list, mark->list, mark->draws * sizeof mark->list[0]);
    run->options = options;
    return true;
}
