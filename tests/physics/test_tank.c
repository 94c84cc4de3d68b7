/* The pressure tank against worked examples and against tables computed from Boyle's law. */
#include <pumpday/tank.h>
#include <pumpday/water.h>

#include "physics/near.h"
#include "physics/published.h"

#include <CUnit/CUnit.h>

void suite_tank(void);

static const double sea_level = 101325, bar = 1e5, litre = 1e-3;
static const double wall = 293.15;

/* A tank of unit volume unless changed; precharge absolute. */
static struct pd_tank tank_of(enum pd_tank_gas gas, double precharge, double exponent)
{
    return (struct pd_tank){gas, 1, precharge, exponent, 20, wall};
}

/* R. Pelikan, National Driller, Feb 2006: 85 gal, precharge 28 psi, 30/50 psi: 25.1 gal at
 * 14.7 psi of atmosphere (0.295 of the tank), 26.1 gal at 11.8 psi, where the printed volumes
 * 80.9 - 54.7 carry the rounding. */
static void drawdown_of_worked_examples(void)
{
    struct pd_tank tank = tank_of(PD_GAS_ISOTHERMAL, 28 + 14.7, 1);

    tank.volume = 85;
    CU_ASSERT(within(pd_tank_gas_volume(&tank, 44.7, wall), 81.2, 0.05));
    CU_ASSERT(within(pd_tank_gas_volume(&tank, 64.7, wall), 56.1, 0.05));
    CU_ASSERT(within(pd_tank_drawdown(&tank, 44.7, 64.7), 25.1, 0.05));
    CU_ASSERT(within(pd_tank_drawdown(&tank, 44.7, 64.7) / 85, 0.295, 0.0005));
    tank.precharge = 28 + 11.8;
    CU_ASSERT(within(pd_tank_drawdown(&tank, 41.8, 61.8), 26.1, 0.1));
}

/* UFC 3-420-01, Table 606.5.11-2: a tank without diaphragm that keeps 10 % of water, 40-60 psi,
 * gives 24 % of its volume.  Its gas is nine tenths of the tank, at the start pressure. */
static void withdrawal_of_a_tank_without_diaphragm(void)
{
    struct pd_tank tank = tank_of(PD_GAS_ISOTHERMAL, 54.7, 1);

    tank.volume = 0.9;
    CU_ASSERT(within(pd_tank_drawdown(&tank, 54.7, 74.7), 0.24, 0.005));
}

/* Washington State Department of Health, Water System Design Manual, bladder tanks with a precharge
 * 5 psi under the start (value from memory): R = 15 (P1 + 14.7)(P2 + 14.7) / ((P1 - P2)(P2 + 9.7)),
 * 61.6613 at 40/60 and 54.6365 at 30/50, which is 15 over the drawdown. */
static void bladder_tank_factor(void)
{
    struct pd_tank low = tank_of(PD_GAS_ISOTHERMAL, 30 + 9.7, 1);
    struct pd_tank high = tank_of(PD_GAS_ISOTHERMAL, 40 + 9.7, 1);

    CU_ASSERT(within(15 / pd_tank_drawdown(&high, 54.7, 74.7), 61.6613, 6e-5));
    CU_ASSERT(within(15 / pd_tank_drawdown(&low, 44.7, 64.7), 54.6365, 6e-5));
}

/* Drawdown over tank volume in psi at 14.7 psi, computed from Boyle's law.  A precharge 2 psi under
 * the start: common practice, no source. */
static void drawdown_factors_in_psi(void)
{
    for (size_t i = 0; i < PSI_ROWS; i++) {
        double low = psi_rows[i].low + 14.7, high = psi_rows[i].high + 14.7;
        struct pd_tank level = tank_of(PD_GAS_ISOTHERMAL, low, 1);
        struct pd_tank under = tank_of(PD_GAS_ISOTHERMAL, low - 2, 1);
        CU_ASSERT(within(pd_tank_drawdown(&level, low, high), psi_rows[i].at_start, 6e-5));
        CU_ASSERT(within(pd_tank_drawdown(&under, low, high), psi_rows[i].under_start, 6e-5));
    }
}

/* The same in bar, computed from p V^n = const from the precharge on, one path. */
static void drawdown_factors_in_bar(void)
{
    for (size_t i = 0; i < BAR_ROWS; i++) {
        double low = bar_rows[i].low * bar + sea_level, high = bar_rows[i].high * bar + sea_level;
        struct pd_tank tank = tank_of(PD_GAS_ISOTHERMAL, low, 1);
        CU_ASSERT(within(pd_tank_drawdown(&tank, low, high), bar_rows[i].at_start, 6e-5));
        tank.precharge = low - 0.2 * bar;
        CU_ASSERT(within(pd_tank_drawdown(&tank, low, high), bar_rows[i].under, 6e-5));
        tank.precharge = 0.9 * bar_rows[i].low * bar + sea_level;
        CU_ASSERT(within(pd_tank_drawdown(&tank, low, high), bar_rows[i].tenth_under, 6e-5));
        tank = tank_of(PD_GAS_POLYTROPIC, low, 1.2);
        CU_ASSERT(within(pd_tank_drawdown(&tank, low, high), bar_rows[i].n12, 6e-5));
        tank.exponent = 1.4;
        CU_ASSERT(within(pd_tank_drawdown(&tank, low, high), bar_rows[i].n14, 6e-5));
    }
}

/* Thinner air above the water: 2.0/3.5 bar gauge, precharge at the start; computed from Boyle's law
 * and ISO 2533. */
static void drawdown_over_altitude(void)
{
    for (size_t i = 0; i < ALTITUDE_ROWS; i++) {
        double air = pd_atmosphere_pressure(altitude_rows[i].height);
        struct pd_tank tank = tank_of(PD_GAS_ISOTHERMAL, 2 * bar + air, 1);
        double factor = pd_tank_drawdown(&tank, 2 * bar + air, 3.5 * bar + air);
        CU_ASSERT(within(factor, altitude_rows[i].factor, 6e-6));
    }
}

/* 24 L, 2.0/3.5 bar gauge, computed from Boyle's law: the most is given with the precharge at the
 * start pressure, and nothing at the stop pressure. */
static void drawdown_over_precharge(void)
{
    double low = 2 * bar + sea_level, high = 3.5 * bar + sea_level;

    for (size_t i = 0; i < PRECHARGE_ROWS; i++) {
        struct pd_tank tank =
            tank_of(PD_GAS_ISOTHERMAL, precharge_rows[i].precharge * bar + sea_level, 1);
        tank.volume = 24;
        CU_ASSERT(within(pd_tank_gas_volume(&tank, low, wall), precharge_rows[i].at_low, 6e-4));
        CU_ASSERT(within(pd_tank_gas_volume(&tank, high, wall), precharge_rows[i].at_high, 6e-4));
        CU_ASSERT(within(pd_tank_drawdown(&tank, low, high), precharge_rows[i].drawdown, 6e-4));
        CU_ASSERT(within(pd_tank_water(&tank, high, wall), 24 - precharge_rows[i].at_high, 6e-4));
    }
}

/* Charles's law at constant volume: 1.8 bar gauge set at 20 C is 1.6561 at 5 C and 1.9439 at 35 C
 * (computed).  The precharge of the other gases is what it is at the wall's temperature. */
static void precharge_over_temperature(void)
{
    struct pd_tank tank = tank_of(PD_GAS_THERMAL, 1.8 * bar + sea_level, 1);

    CU_ASSERT(within(pd_tank_empty_pressure(&tank, 278.15) - sea_level, 1.6561 * bar, 6));
    CU_ASSERT(within(pd_tank_empty_pressure(&tank, 308.15) - sea_level, 1.9439 * bar, 6));
    tank.gas = PD_GAS_ISOTHERMAL;
    CU_ASSERT(pd_tank_empty_pressure(&tank, 278.15) == tank.precharge);
    tank.gas = PD_GAS_POLYTROPIC;
    CU_ASSERT(pd_tank_empty_pressure(&tank, 278.15) == tank.precharge);
}

/* Computed from the ideal gas with ratio of heats 1.4: quick filling from 2.0 to 3.5 bar gauge
 * warms it from 293.15 K by 1.122354 and takes it to 0.749334 of its volume; cooled again at that
 * volume it stands at 3.00799 bar gauge. */
static void thermal_gas_filled_quickly(void)
{
    struct pd_tank tank = tank_of(PD_GAS_THERMAL, 2 * bar + sea_level, 1);

    double warm = pd_tank_gas_volume(&tank, 3.5 * bar + sea_level, wall * 1.122354);
    CU_ASSERT(within(warm, 0.749334, 2e-6));
    double cooled = pd_tank_gas_volume(&tank, 3.00799 * bar + sea_level, wall);
    CU_ASSERT(within(cooled, 0.749334, 2e-6));
    // the adiabat of the same ends
    struct pd_tank adiabatic = tank_of(PD_GAS_POLYTROPIC, 2 * bar + sea_level, PD_GAMMA);
    CU_ASSERT(within(pd_tank_gas_volume(&adiabatic, 3.5 * bar + sea_level, wall), warm, 2e-6));
}

static double isothermal_volume(double pressure, const void *tank)
{
    return pd_tank_gas_volume(tank, pressure, wall);
}

/* What a tank stores for a little more pressure is V / (n p); 24 L, precharge 2.0, at 2.75 bar
 * gauge: 5106 mL per bar, computed from Boyle's law. */
static void storage_of_a_tank(void)
{
    struct pd_tank tank = tank_of(PD_GAS_ISOTHERMAL, 2 * bar + sea_level, 1);
    double pressure = 2.75 * bar + sea_level;

    tank.volume = 24 * litre;
    double slope = difference(isothermal_volume, &tank, pressure, 100);
    CU_ASSERT(within(-slope * bar / (1e-3 * litre), 5106, 0.6));
    CU_ASSERT(near(-slope, pd_tank_gas_volume(&tank, pressure, wall) / pressure, 1e-8));
    tank.gas = PD_GAS_POLYTROPIC;
    tank.exponent = 1.2;
    slope = difference(isothermal_volume, &tank, pressure, 100);
    CU_ASSERT(near(-slope, pd_tank_gas_volume(&tank, pressure, wall) / (1.2 * pressure), 1e-8));
}

/* A tank under its precharge holds no water, and the gas volume meets the tank's at it. */
static void empty_tank(void)
{
    for (int gas = PD_GAS_ISOTHERMAL; gas <= PD_GAS_THERMAL; gas++) {
        struct pd_tank tank = tank_of((enum pd_tank_gas)gas, 3e5, 1.3);
        double empty = pd_tank_empty_pressure(&tank, 300);
        CU_ASSERT(pd_tank_gas_volume(&tank, empty * 0.5, 300) == 1);
        CU_ASSERT(pd_tank_water(&tank, empty * 0.999, 300) == 0);
        CU_ASSERT(within(pd_tank_water(&tank, empty * (1 + 1e-12), 300), 0, 2e-12));
        CU_ASSERT(pd_tank_water(&tank, empty * 1.001, 300) > 5e-4);
    }
}

/* An exponent of 1 is the isothermal gas. */
static void polytropic_of_one_is_isothermal(void)
{
    struct pd_tank one = tank_of(PD_GAS_POLYTROPIC, 3e5, 1);
    struct pd_tank isothermal = tank_of(PD_GAS_ISOTHERMAL, 3e5, 1);

    for (double pressure = 1e5; pressure < 9e5; pressure += 7e4) {
        CU_ASSERT(pd_tank_gas_volume(&one, pressure, wall) ==
                  pd_tank_gas_volume(&isothermal, pressure, wall));
    }
}

void suite_tank(void)
{
    CU_pSuite suite = CU_add_suite("tank", NULL, NULL);

    CU_ADD_TEST(suite, drawdown_of_worked_examples);
    CU_ADD_TEST(suite, withdrawal_of_a_tank_without_diaphragm);
    CU_ADD_TEST(suite, bladder_tank_factor);
    CU_ADD_TEST(suite, drawdown_factors_in_psi);
    CU_ADD_TEST(suite, drawdown_factors_in_bar);
    CU_ADD_TEST(suite, drawdown_over_altitude);
    CU_ADD_TEST(suite, drawdown_over_precharge);
    CU_ADD_TEST(suite, precharge_over_temperature);
    CU_ADD_TEST(suite, thermal_gas_filled_quickly);
    CU_ADD_TEST(suite, storage_of_a_tank);
    CU_ADD_TEST(suite, empty_tank);
    CU_ADD_TEST(suite, polytropic_of_one_is_isothermal);
}
