//! Several drivers against `data/acoustics/tables/wiring.csv`.
use super::{Table, rig};
use crate::assert_near;
use kerf_and_coil::model::acoustics::figures::reference_level_db;
use kerf_and_coil::model::acoustics::{Air, Enclosure, Load, Wiring, respond};
use kerf_and_coil::units::Voltage;

// Table wiring.csv: factors of N = series × parallel drivers against one; 5 to 6 digits.
#[test]
fn several_drivers_match_the_table() {
    let air = Air::standard();
    let volts = Voltage::from_volts(2.83);
    let network = |wiring| {
        let driver = rig::a10();
        Enclosure::InfiniteBaffle.network(Load { driver, wiring }, air).unwrap()
    };
    let single = network(Wiring::SINGLE);
    let frequencies = [12.0, 28.0, 55.0, 200.0];
    let alone = respond(&single, volts, &frequencies).unwrap();
    for row in Table::read("tables/wiring.csv").rows() {
        let (series, parallel) = (row.number("n_series"), row.number("n_parallel"));
        let together = network(Wiring::of_drivers(series as usize, parallel as usize));
        let response = respond(&together, volts, &frequencies).unwrap();
        let gain = row.number("spl_change_same_voltage_db");
        assert_near(
            reference_level_db(&together, volts).unwrap() - reference_level_db(&single, volts).unwrap(),
            gain,
            1e-5,
        );
        for (several, one) in response.spl_db.iter().zip(&alone.spl_db) {
            assert_near(several - one, gain, 1e-5);
        }
        let factor = row.number("Re_and_Zcoil_factor");
        for (several, one) in response.impedance_ohm.iter().zip(&alone.impedance_ohm) {
            assert_near((several / one).re, factor, 1e-6);
            assert_near((several / one).im, 0.0, 1e-6);
        }
        let dc = together.load.dc_resistance().ohms() / single.load.dc_resistance().ohms();
        assert_near(dc, factor, 1e-6);
    }
}

/// Two coils a cone: however they are connected, the cone answers the same power alike (energy conservation).
#[test]
fn the_connection_of_coils_changes_the_load_only() {
    let air = Air::standard();
    let driver = rig::a10();
    let in_series = Wiring::of_coils(2, 2, 4).unwrap();
    let in_parallel = Wiring::of_coils(2, 2, 1).unwrap();
    assert_eq!((in_series.series_factor, in_series.parallel), (2.0, 1.0));
    assert_eq!((in_parallel.series_factor, in_parallel.parallel), (0.5, 4.0));
    let respond_to = |wiring, volts: f64| {
        let network = Enclosure::InfiniteBaffle.network(Load { driver, wiring }, air).unwrap();
        respond(&network, Voltage::from_volts(volts), &[20.0, 60.0]).unwrap()
    };
    // A quarter of the turns in each path: a quarter of the voltage, a sixteenth of the impedance.
    let (high, low) = (respond_to(in_series, 8.0), respond_to(in_parallel, 2.0));
    for i in 0..2 {
        assert_near(high.spl_db[i], low.spl_db[i], 1e-9);
        assert_near(high.excursion_peak_m[i], low.excursion_peak_m[i], 1e-12);
        let ratio = high.impedance_ohm[i] / low.impedance_ohm[i];
        assert_near(ratio.re, 16.0, 1e-9);
    }
    for (drivers, coils, series) in [(0, 2, 1), (2, 2, 3), (1, 1, 0), (1, 0, 1)] {
        assert!(Wiring::of_coils(drivers, coils, series).is_err());
    }
}
