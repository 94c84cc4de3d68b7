/* Tables as published or computed from what is published, and examples run through the parts. */
#include "physics/published.h"

#include <pumpday/pipe.h>
#include <pumpday/pump.h>
#include <pumpday/water.h>

#include <math.h>

static const double pi = 3.14159265358979323846;
static const double foot = 0.3048, psi = 6894.757;

double published_colebrook(double reynolds, double roughness)
{
    double x = 7;

    for (int i = 0; i < 100; i++) {
        x = -2 * log10(roughness / 3.7 + 2.51 * x / reynolds);
    }
    return 1 / (x * x);
}

const struct friction_row friction_rows[FRICTION_ROWS] = {
    {4000, 0, 0.0399070, 0.040590},    {5000, 0.001, 0.0384954, 0.039138},
    {1e4, 0, 0.0308830, 0.031002},     {2e4, 0.0001, 0.0261015, 0.026085},
    {1e5, 0, 0.0179898, 0.017875},     {1e5, 0.0001, 0.0185139, 0.018463},
    {1e5, 0.001, 0.0221745, 0.022343}, {1e5, 0.01, 0.0385035, 0.038734},
    {1e6, 0, 0.0116450, 0.011612},     {1e6, 0.0001, 0.0134414, 0.013508},
    {1e6, 0.001, 0.0199435, 0.020022}, {1e8, 0.01, 0.0379043, 0.037885},
};

struct white_6_6 white_6_6(void)
{
    const double density = 1.94 * 515.3788;
    struct pd_pipe pipe = {200 * foot, 0.5 * foot, 0.0008 * 0.5 * foot, 0};
    double velocity = 6 * foot;
    double viscosity = density * velocity * pipe.diameter / 2.7e5;
    double flow = velocity * pi / 4 * pipe.diameter * pipe.diameter;
    double loss = pd_pipe_loss(&pipe, density, viscosity, flow);

    return (struct white_6_6){pd_friction_factor(2.7e5, 0.0008),
                              loss / (density * PD_GRAVITY * foot), loss / (psi / 144)};
}

struct white_6_7 white_6_7(void)
{
    struct pd_pipe pipe = {500, 0.2, 0.26e-3, 0};
    double reynolds = 0.2 * 4 / (pi * 0.2) / 1e-5;
    double loss = pd_pipe_loss(&pipe, 900, 0.009, 0.2);
    double fall = 900 * PD_GRAVITY * 500 * sin(pi / 18);
    double as_book =
        loss * published_colebrook(reynolds, 0.0013) / pd_friction_factor(reynolds, 0.0013);

    return (struct white_6_7){loss, as_book, as_book / (900 * PD_GRAVITY), as_book - fall};
}

struct munson_8_8 munson_8_8(void)
{
    const double density = 1.94 * 515.3788, viscosity = 2.34e-5 * psi / 144;
    const double flow = 12.0 * 3.785411784e-3 / 60;
    struct pd_pipe plain = {60 * foot, 0.0625 * foot, 5e-6 * foot, 0};
    struct pd_pipe fitted = plain;
    fitted.loss_k = 4 * 1.5 + 10 + 2;

    // what gravity and the faucet's jet take
    double pipe_velocity = flow / (pi / 4 * plain.diameter * plain.diameter);
    double jet = flow / (pi / 4 * 0.5 * foot / 12 * 0.5 * foot / 12);
    double none =
        density * (PD_GRAVITY * 20 * foot + (jet * jet - pipe_velocity * pipe_velocity) / 2);

    return (struct munson_8_8){pipe_velocity / foot, none / psi,
                               (none + pd_pipe_loss(&plain, density, viscosity, flow)) / psi,
                               (none + pd_pipe_loss(&fitted, density, viscosity, flow)) / psi};
}

const struct hole_row hole_rows[HOLE_ROWS] = {
    {0.1e-3, 0.4225}, {0.2e-3, 1.690}, {0.5e-3, 10.56}, {1e-3, 42.25}, {2e-3, 168.99},
};

double published_hole_flow(double diameter)
{
    double slope;
    double coefficient = 0.61 * pi / 4 * diameter * diameter * sqrt(2.0 / 1000);

    return coefficient * pd_smooth_power(3e5, 0.5, &slope);
}

const struct leak_half leak_halves[LEAK_ROWS] = {{0.5, 29}, {1.0, 50}, {2.5, 82}};
const struct leak_third leak_thirds[LEAK_ROWS] = {{0.5, 0.8165}, {1.0, 0.6667}, {1.5, 0.5443}};

const struct wall_row wall_rows[WALL_ROWS] = {
    {"copper 15x1", 13e-3, 1e-3, 120e9, 1329.2, 1763.5e6, 0.057},
    {"copper 22x1", 20e-3, 1e-3, 120e9, 1265.7, 1599.0e6, 0.063},
    {"copper 28x1.5", 25e-3, 1.5e-3, 120e9, 1294.7, 1673.3e6, 0.060},
    {"steel DN 25", 27.3e-3, 3.2e-3, 200e9, 1413.6, 1994.5e6, 0.050},
    {"PVC 25x1.9", 21.2e-3, 1.9e-3, 3e9, 489.7, 239.3e6, 0.418},
    {"PE100 32x3", 26e-3, 3e-3, 1.1e9, 346.6, 119.9e6, 0.834},
    {"PEX 20x2", 16e-3, 2e-3, 0.8e9, 309.5, 95.6e6, 1.046},
    {"PEX 20x1.9", 16.2e-3, 1.9e-3, 0.6e9, 261.3, 68.2e6, 1.467},
};

double published_give(const struct wall_row *row)
{
    double volume = 10 * pi / 4 * row->bore * row->bore;

    return pd_pipe_compliance(10, row->bore, row->wall, row->modulus, 2.18e9) / volume;
}

const struct npsh_row npsh_rows[NPSH_ROWS] = {
    {0, 10, 10.710},   {0, 25, 10.539},   {0, 60, 8.940},    {1000, 10, 9.542}, {1000, 25, 9.368},
    {1000, 60, 7.753}, {2000, 10, 8.483}, {2000, 25, 8.306}, {2000, 60, 6.676},
};

double published_npsh(const struct npsh_row *row)
{
    struct pd_water water = pd_water_at(273.15 + row->celsius, 101325);
    double suction = water.density * PD_GRAVITY * 0.5;
    double air = pd_atmosphere_pressure(row->height);

    return pd_npsh_available(suction, air, water.vapour_pressure, water.density);
}

const struct water_row water_rows[WATER_ROWS] = {
    {5, 999.967, 1518.17e-6, 872.57, 2.0339e9},   {10, 999.702, 1305.90e-6, 1228.18, 2.0925e9},
    {15, 999.101, 1137.57e-6, 1705.74, 2.1417e9}, {20, 998.206, 1001.60e-6, 2339.21, 2.1822e9},
    {25, 997.048, 890.02e-6, 3169.75, 2.2145e9},  {40, 992.224, 652.73e-6, 7384.43, 2.2676e9},
    {60, 983.211, 466.04e-6, 19945.80, 2.2553e9},
};

const struct air_row air_rows[AIR_ROWS] = {
    {0, 101325.0},   {250, 98357.5},  {500, 95460.8},  {1000, 89874.6},
    {1500, 84556.0}, {2000, 79495.2}, {2500, 74682.5}, {3000, 70108.5},
};

const struct air_row geometric_rows[GEOMETRIC_ROWS] = {
    {500, 95461}, {1000, 89876}, {1500, 84560}, {2000, 79501}, {3000, 70121}};

double published_geopotential(double geometric_height)
{
    const double radius = 6356766;

    return radius * geometric_height / (radius + geometric_height);
}

const double curve_x[CURVE_POINTS] = {0, 10, 20, 30, 45, 60};
const double curve_y[CURVE_POINTS] = {42, 41.2, 39, 35.1, 26, 12};
const struct curve_sample curve_samples[CURVE_SAMPLES] = {
    {0, 42, -0.0099999999999994312},
    {8.5714285714285712, 41.365714285714283, -0.11399999999999982},
    {10, 41.200000000000003, -0.11733333333333305},
    {17.142857142857142, 39.77781070273543, -0.25978008252481366},
    {20, 39, -0.28131147540983625},
    {25.714285714285715, 36.994658509773934, -0.41053730344596828},
    {30, 35.100000000000001, -0.46799999999999992},
    {34.285714285714285, 32.915761109638666, -0.55049680478251917},
    {42.857142857142854, 27.538982242247549, -0.70082622139765016},
    {45, 26, -0.73535353535353543},
    {51.428571428571431, 20.672727272727268, -0.91565656565656572},
    {60, 12, -1.0966666666666667},
};

const struct psi_row psi_rows[PSI_ROWS] = {
    {20, 40, 0.3656, 0.3446}, {30, 50, 0.3091, 0.2953}, {40, 60, 0.2677, 0.2579},
    {50, 70, 0.2361, 0.2288}, {60, 80, 0.2112, 0.2055},
};

const struct bar_row bar_rows[BAR_ROWS] = {
    {1.0, 2.0, 0.3319, 0.2989, 0.3154, 0.2854, 0.2503},
    {1.5, 2.5, 0.2846, 0.2620, 0.2676, 0.2436, 0.2128},
    {1.5, 3.0, 0.3738, 0.3440, 0.3515, 0.3230, 0.2842},
    {2.0, 3.0, 0.2492, 0.2326, 0.2326, 0.2124, 0.1851},
    {2.0, 3.5, 0.3324, 0.3103, 0.3103, 0.2859, 0.2507},
    {2.5, 4.0, 0.2992, 0.2822, 0.2779, 0.2564, 0.2243},
    {3.0, 4.5, 0.2721, 0.2585, 0.2517, 0.2325, 0.2029},
};

const struct altitude_row altitude_rows[ALTITUDE_ROWS] = {
    {0, 0.33235}, {1000, 0.34101}, {2000, 0.34925}, {3000, 0.35705}};

const struct precharge_row precharge_rows[PRECHARGE_ROWS] = {
    {0, 8.070, 5.388, 2.682},
    {0.5, 12.053, 8.047, 4.006},
    {1.0, 16.035, 10.706, 5.329},
    {1.5, 20.018, 13.365, 6.653},
    {1.8, 22.407, 14.960, 7.447},
    {2.0, 24.000, 16.023, 7.977},
    {2.2, 24, 17.087, 6.913},
    {2.5, 24, 18.682, 5.318},
    {3.0, 24, 21.341, 2.659},
    {3.5, 24, 24, 0},
    {4.0, 24, 24, 0},
};
