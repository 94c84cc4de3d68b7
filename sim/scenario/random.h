/* Random numbers that depend on what they are for alone: a stream is named by a seed, a day and a
 * use, whatever was drawn elsewhere before.  Philox 4x32 of ten rounds, a generator by counter:
 * Salmon, Moraes, Dror and Shaw, Parallel Random Numbers: As Easy as 1, 2, 3, SC 2011. */
#ifndef PD_SCENARIO_RANDOM_H
#define PD_SCENARIO_RANDOM_H

#include <stdint.h>

struct random_stream {
    uint32_t key[2];
    uint32_t counter[4]; /* block, use, day (two words) */
    uint32_t word[4];
    int left; /* of the words */
};

struct random_stream random_stream_for(uint64_t seed, uint64_t day, uint32_t use);

/* Over 0 and under 1, of 53 bits. */
double random_uniform(struct random_stream *stream);

/* Of mean 1. */
double random_exponential(struct random_stream *stream);

/* Of mean 0 and variance 1.  Source: Box and Muller, Ann. Math. Stat. 29, 1958. */
double random_normal(struct random_stream *stream);

/* Of mean 1 and a standard deviation `spread` >= 0.  Gamma by Marsaglia and Tsang, ACM Trans. Math.
 * Softw. 26(3), 2000. */
double random_gamma(struct random_stream *stream, double spread);
double random_lognormal(struct random_stream *stream, double spread);

/* A whole number >= 1 of a mean >= 1: P(n) = (1 - 1/mean)^(n - 1) / mean. */
int random_geometric(struct random_stream *stream, double mean);

#endif
