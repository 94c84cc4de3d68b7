/* Tells the observers of a run what happens. */
#include "run/run.h"

enum pd_answer observers_step(struct run *run, double to, const double *state)
{
    enum pd_answer answer = PD_GO_ON;

    for (size_t i = 0; run->counting && i < run->observers && answer == PD_GO_ON; i++) {
        const struct observer *observer = &run->observer[i];
        if (observer->step != NULL) {
            answer = observer->step(observer->context, run, to, state);
        }
    }
    return answer;
}

enum pd_answer observers_event(struct run *run)
{
    enum pd_answer answer = PD_GO_ON;

    for (size_t i = 0; run->counting && i < run->observers && answer == PD_GO_ON; i++) {
        const struct observer *observer = &run->observer[i];
        if (observer->event != NULL) {
            answer = observer->event(observer->context, run);
        }
    }
    return answer;
}

void observers_before(struct run *run)
{
    for (size_t i = 0; run->counting && i < run->observers; i++) {
        if (run->observer[i].before != NULL) {
            run->observer[i].before(run->observer[i].context, run);
        }
    }
}

void observers_midnight(struct run *run)
{
    for (size_t i = 0; i < run->observers; i++) {
        if (run->observer[i].midnight != NULL) {
            run->observer[i].midnight(run->observer[i].context, run);
        }
    }
}

void observers_starts(struct run *run, enum pd_cause cause)
{
    run->runs_counted += run->counting ? 1 : 0;
    for (size_t i = 0; i < run->observers; i++) {
        if (run->observer[i].starts != NULL) {
            run->observer[i].starts(run->observer[i].context, run, cause);
        }
    }
}

void observers_stops(struct run *run, enum pd_cause cause)
{
    for (size_t i = 0; i < run->observers; i++) {
        if (run->observer[i].stops != NULL) {
            run->observer[i].stops(run->observer[i].context, run, cause);
        }
    }
}

void observers_end(struct run *run)
{
    for (size_t i = 0; i < run->observers; i++) {
        if (run->observer[i].end != NULL) {
            run->observer[i].end(run->observer[i].context, run);
        }
    }
}
