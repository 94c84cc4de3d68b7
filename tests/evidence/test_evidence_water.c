/* Water and air against the releases of IAPWS and the standard atmosphere. */
#include <pumpday/water.h>

#include "evidence/evidence.h"
#include "physics/published.h"

#include <CUnit/CUnit.h>

void suite_evidence_water(void);

static int begin(void)
{
    evidence_part(EVIDENCE_WATER);
    return 0;
}

static void verification_values_of_the_releases(void)
{
    static const struct evidence_source region_1 = {"IAPWS R7-97(2012), region 1", 0};
    static const struct evidence_source region_4 = {"IAPWS R7-97(2012), region 4", 0};
    static const struct evidence_source viscosity = {"IAPWS R12-08", 0};

    evidence_check("specific volume at 300 K, 3 MPa", &region_1, 0.00100215168,
                   pd_water_specific_volume(300, 3e6), "m3/kg", 5e-12);
    evidence_check("specific volume at 300 K, 80 MPa", &region_1, 0.000971180894,
                   pd_water_specific_volume(300, 80e6), "m3/kg", 5e-13);
    evidence_check("compressibility at 500 K, 3 MPa", &region_1, 0.00112892188,
                   1e6 * pd_water_compressibility(500, 3e6), "1/MPa", 5e-12);
    evidence_check("vapour pressure at 300 K", &region_4, 0.00353658941,
                   1e-6 * pd_water_saturation_pressure(300), "MPa", 5e-12);
    evidence_check("vapour pressure at 500 K", &region_4, 2.63889776,
                   1e-6 * pd_water_saturation_pressure(500), "MPa", 5e-9);
    evidence_check("vapour pressure at 600 K", &region_4, 12.3443146,
                   1e-6 * pd_water_saturation_pressure(600), "MPa", 6e-8);
    evidence_check("viscosity at 998 kg/m3, 298.15 K", &viscosity, 889.735100,
                   1e6 * pd_water_viscosity(998, 298.15), "uPa s", 6e-7);
    evidence_check("viscosity at 1200 kg/m3, 298.15 K", &viscosity, 1437.649467,
                   1e6 * pd_water_viscosity(1200, 298.15), "uPa s", 6e-7);
}

static void water_at_the_temperatures_of_a_house(void)
{
    static const struct evidence_source if97 = {"IAPWS R7-97(2012)", EVIDENCE_COMPUTED};
    static const struct evidence_source r12 = {"IAPWS R12-08", EVIDENCE_COMPUTED};

    for (size_t i = 0; i < WATER_ROWS; i++) {
        const struct water_row *row = &water_rows[i];
        struct pd_water water = pd_water_at(row->celsius + 273.15, 101325);
        evidence_check(evidence_text("density at %g C", row->celsius), &if97, row->density,
                       water.density, "kg/m3", 6e-4);
        evidence_check(evidence_text("viscosity at %g C", row->celsius), &r12, 1e6 * row->viscosity,
                       1e6 * water.viscosity, "uPa s", 6e-3);
        evidence_check(evidence_text("vapour pressure at %g C", row->celsius), &if97,
                       row->vapour_pressure, water.vapour_pressure, "Pa", 6e-3);
        evidence_check(evidence_text("bulk modulus at %g C", row->celsius), &if97,
                       1e-9 * row->bulk_modulus, 1e-9 * water.bulk_modulus, "GPa", 6e-5);
    }
    evidence_check("density at 20 C, 0.5 MPa", &if97, 998.388, pd_water_at(293.15, 5e5).density,
                   "kg/m3", 6e-4);
}

static void standard_atmosphere(void)
{
    static const struct evidence_source formula = {"ISO 2533:1975", EVIDENCE_COMPUTED};
    static const struct evidence_source table = {"ISO 2533:1975, table", EVIDENCE_FROM_MEMORY};
    static const struct evidence_source pelikan = {"R. Pelikan, National Driller, Feb 2006", 0};
    static const struct evidence_source bachus = {
        "L. Bachus and A. Custodio, Know and Understand Centrifugal Pumps, 2003", 0};
    const double foot = 0.3048, psi = 6894.757;

    for (size_t i = 0; i < AIR_ROWS; i++) {
        evidence_check(evidence_text("pressure at %g m, geopotential", air_rows[i].height),
                       &formula, air_rows[i].pressure, pd_atmosphere_pressure(air_rows[i].height),
                       "Pa", 0.06);
    }
    for (size_t i = 0; i < GEOMETRIC_ROWS; i++) {
        double height = published_geopotential(geometric_rows[i].height);
        evidence_check(evidence_text("pressure at %g m, geometric", geometric_rows[i].height),
                       &table, geometric_rows[i].pressure, pd_atmosphere_pressure(height), "Pa",
                       0.6);
    }
    evidence_check("pressure at 6000 ft, as rounded there", &pelikan, 11.8,
                   pd_atmosphere_pressure(6000 * foot) / psi, "psi", 0.05);
    evidence_check("pressure at 7000 ft, as rounded there", &bachus, 26.2,
                   pd_atmosphere_pressure(7000 * foot) / (1000 * PD_GRAVITY * foot), "ft of water",
                   0.05);
}

void suite_evidence_water(void)
{
    CU_pSuite suite = CU_add_suite("evidence_water", begin, NULL);

    CU_ADD_TEST(suite, verification_values_of_the_releases);
    CU_ADD_TEST(suite, water_at_the_temperatures_of_a_house);
    CU_ADD_TEST(suite, standard_atmosphere);
}
