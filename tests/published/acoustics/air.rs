//! Air and reference efficiency against the tables of `data/acoustics/tables`.
use super::Table;
use crate::assert_near;
use kerf_and_coil::model::acoustics::{Air, SmallSignal};
use kerf_and_coil::units::{Area, Frequency, Pressure, Resistance, Temperature, Volume};

// Table air.csv: dry ideal gas; six significant digits.
#[test]
fn air_matches_the_table() {
    for row in Table::read("tables/air.csv").rows() {
        let air = Air::at(
            Temperature::from_celsius(row.number("temperature_c")),
            Pressure::from_pascals(row.number("pressure_pa")),
        )
        .unwrap();
        assert_near(air.density_kg_m3(), row.number("rho_kg_m3"), 1e-5);
        assert_near(air.speed_of_sound_m_s(), row.number("c_m_s"), 1e-3);
        assert_near(air.bulk_modulus_pa(), row.number("rho_c2_pa"), 1.0);
        // Two textbook approximations in the same table: within 0.03 % and, up to 30 °C, within 0.2 %.
        let root = row.number("c_331p3_sqrt_m_s");
        assert_near(air.speed_of_sound_m_s(), root, 3e-4 * root);
        let linear = row.number("c_331p6_linear_m_s");
        if row.number("temperature_c") <= 30.0 {
            assert_near(air.speed_of_sound_m_s(), linear, 2e-3 * linear);
        }
    }
}

// Speed of sound at 0 °C and 20 °C, rounded to 0.1 m/s: 331.3 and 343.2 (standard textbook values, from memory).
#[test]
fn speed_of_sound_matches_textbooks() {
    for (celsius, expected) in [(0.0, 331.3), (20.0, 343.2)] {
        let air = Air::at(Temperature::from_celsius(celsius), Pressure::from_pascals(101_325.0)).unwrap();
        assert_near(air.speed_of_sound_m_s(), expected, 0.06);
    }
}

// Table efficiency_examples.csv: η0 = 4π²/c³·fs³·Vas/Qes (Small 1972) and the level of 1 W into half space at 20 °C.
#[test]
fn reference_efficiency_matches_the_table() {
    let air = Air::standard();
    for row in Table::read("tables/efficiency_examples.csv").rows() {
        let set = SmallSignal {
            fs: Frequency::from_hertz(row.number("fs_hz")),
            qes: row.number("qes"),
            qms: 5.0,
            vas: Volume::from_cubic_metres(row.number("vas_m3")),
            sd: Area::from_square_centimetres(330.0),
            re: Resistance::from_ohms(4.0),
        };
        let efficiency = row.number("eta0_20C");
        assert_near(set.reference_efficiency(&air), efficiency, 1e-5 * efficiency);
        let level = set.sensitivity_1w_db(&air);
        assert_near(level, row.number("spl_1w_1m_2pi_20C_db"), 1e-4);
        // The rule of 112.1 dB + 10·lg η0 uses Small's air and differs by little.
        assert_near(level, row.number("spl_112p1_rule_db"), 0.15);
    }
}

// Table efficiency_constant.csv: 4π²/c³ of η0 = 4π²/c³·fs³·Vas/Qes, and the level at 1 m into half space of a driver that
// turns 1 W into sound whole. Its row with Small's own air is a constant of his papers, not a state of dry air.
#[test]
fn the_constants_of_efficiency_are_the_tables() {
    let mut seen = 0;
    for row in Table::read("tables/efficiency_constant.csv").rows() {
        let name = row.text("air");
        let Some((celsius, rest)) = name.split_once(" C ") else { continue };
        let celsius: f64 = celsius.parse().unwrap();
        let pascals: f64 = rest.trim_end_matches(" Pa").parse().unwrap();
        let air = Air::at(Temperature::from_celsius(celsius), Pressure::from_pascals(pascals)).unwrap();
        let set = SmallSignal {
            fs: Frequency::from_hertz(30.0),
            qes: 0.5,
            qms: 5.0,
            vas: Volume::from_litres(50.0),
            sd: Area::from_square_centimetres(330.0),
            re: Resistance::from_ohms(4.0),
        };
        let efficiency = set.reference_efficiency(&air);
        let constant = efficiency * 0.5 / (30.0f64.powi(3) * 0.05);
        let expected = row.number("four_pi2_over_c3");
        assert_near(constant, expected, 2e-5 * expected);
        let level = set.sensitivity_1w_db(&air) - 10.0 * efficiency.log10();
        assert_near(level, row.number("spl_at_eta_1_db_2pi_1m"), 1e-3);
        seen += 1;
    }
    assert_eq!(seen, 2);
}

#[test]
fn air_out_of_range_is_refused() {
    for (celsius, pascals) in [(f64::NAN, 1e5), (20.0, f64::INFINITY), (-300.0, 1e5), (20.0, 0.0)] {
        let air = Air::at(Temperature::from_celsius(celsius), Pressure::from_pascals(pascals));
        assert!(air.is_err(), "{celsius} °C, {pascals} Pa");
    }
}
