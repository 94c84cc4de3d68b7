/* Random but valid scenarios, the same ones at every run. */
#ifndef PUMPDAY_TESTS_RANDOM_SCENE_H
#define PUMPDAY_TESTS_RANDOM_SCENE_H

#include <pumpday/scenario.h>

#include <stdint.h>

enum { RANDOM_DRAWS_MOST = 60, RANDOM_SAMPLES_MOST = 8 };

/* A scenario with the lists that it points into; nothing to be freed. */
struct random_scene {
    uint64_t seed;
    struct pd_scenario scenario;
    struct pd_draw draws[RANDOM_DRAWS_MOST];
    struct pd_sample profile[RANDOM_SAMPLES_MOST], supply[RANDOM_SAMPLES_MOST];
};

/* Fills everything from the seed: all items with a say in a day, within sensible ranges. */
void random_scene_fill(struct random_scene *scene, uint64_t seed);

/* A number between two, next in the row of the scene's seed. */
double random_between(struct random_scene *scene, double low, double high);

#endif
