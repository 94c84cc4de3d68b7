/* Hides the library that makes the bits. */
#include "scenario/random.h"

#include <Random123/philox.h>

#include <math.h>

static const double two_pi = 6.283185307179586;

struct random_stream random_stream_for(uint64_t seed, uint64_t day, uint32_t use)
{
    return (struct random_stream){
        .key = {(uint32_t)seed, (uint32_t)(seed >> 32U)},
        .counter = {0, use, (uint32_t)day, (uint32_t)(day >> 32U)},
    };
}

static uint32_t next_word(struct random_stream *stream)
{
    if (stream->left == 0) {
        philox4x32_ctr_t counter = {
            {stream->counter[0], stream->counter[1], stream->counter[2], stream->counter[3]}};
        philox4x32_key_t key = {{stream->key[0], stream->key[1]}};
        philox4x32_ctr_t block = philox4x32(counter, key);
        for (int i = 0; i < 4; i++) {
            stream->word[i] = block.v[i];
        }
        stream->counter[0]++;
        stream->left = 4;
    }
    return stream->word[4 - stream->left--];
}

double random_uniform(struct random_stream *stream)
{
    uint64_t high = next_word(stream) >> 5U;
    uint64_t low = next_word(stream) >> 6U;

    return ((double)(high << 26U | low) + 0.5) / 9007199254740992.0; // 2^53
}

double random_exponential(struct random_stream *stream)
{
    return -log(random_uniform(stream));
}

double random_normal(struct random_stream *stream)
{
    double radius = sqrt(2 * random_exponential(stream));

    return radius * cos(two_pi * random_uniform(stream));
}

/* Of a shape >= 1 and scale 1. */
static double gamma_of(struct random_stream *stream, double shape)
{
    double d = shape - 1.0 / 3.0, c = 1.0 / sqrt(9.0 * d);

    for (;;) {
        double x = random_normal(stream);
        double v = 1.0 + c * x;
        if (v <= 0) {
            continue;
        }
        v = v * v * v;
        if (log(random_uniform(stream)) < 0.5 * x * x + d - d * v + d * log(v)) {
            return d * v;
        }
    }
}

double random_gamma(struct random_stream *stream, double spread)
{
    double shape = 1.0 / (spread * spread);

    if (spread == 0) {
        return 1.0;
    }
    if (shape >= 1.0) {
        return gamma_of(stream, shape) / shape;
    }
    double lifted = gamma_of(stream, shape + 1.0);
    return lifted * pow(random_uniform(stream), 1.0 / shape) / shape;
}

double random_lognormal(struct random_stream *stream, double spread)
{
    double variance = log1p(spread * spread);

    return exp(sqrt(variance) * random_normal(stream) - 0.5 * variance);
}

int random_geometric(struct random_stream *stream, double mean)
{
    // a mean over this would make a cluster of more draws than a day may have
    static const double most = 20000;

    if (mean <= 1.0) {
        return 1;
    }
    return 1 + (int)fmin(floor(-random_exponential(stream) / log1p(-1.0 / mean)), most);
}
