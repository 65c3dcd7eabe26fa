//! Key figures against the reference curves and closed forms.
use super::{Table, rig};
use crate::assert_near;
use kerf_and_coil::model::acoustics::figures::figures;
use kerf_and_coil::model::acoustics::{
    Air, CoilImpedance, Driver, Enclosure, Load, Losses, Network, Response, SealedChamber,
};
use kerf_and_coil::model::numeric::log_grid;
use kerf_and_coil::units::{Area, Compliance, ForceFactor, Mass, Resistance, Voltage, Volume};

/// The lossless vented reference case vb1 (12 inch driver at 2.83 V, 50.8 l, 28 Hz), from `cases/vented/vb1.json`.
fn vb1() -> Network {
    let driver = Driver {
        re: Resistance::from_ohms(3.4),
        coil: CoilImpedance::None,
        bl: ForceFactor::from_tesla_metres(14.815_729_225_4),
        mms: Mass::from_kilograms(0.15),
        cms: Compliance::from_metres_per_newton(0.000_215_393_672_709),
        rms_ns_m: 4.398_229_715_03,
        sd: Area::from_square_metres(0.0485),
    };
    rig::vented(driver, Volume::from_cubic_metres(0.050_821_334_986_1), 28.0, None)
}

// Case vb1 of `data/acoustics/cases`: largest and smallest of the 200 rows. The true extreme lies between two rows 2 %
// apart, so it may pass the largest row a little and never fall short of it.
#[test]
fn extremes_match_the_reference_curve() {
    let network = vb1();
    let response = rig::at_2v83(&network, &log_grid(10.0, 500.0, 240));
    let found = figures(&network, Voltage::from_volts(2.83), &response).unwrap();
    let curve = Table::read("cases/vented/vb1.csv");
    let most = |column: &str| curve.column(column).into_iter().fold(0.0, f64::max);
    for (value, largest) in [
        (found.excursion.value.millimetres(), most("x_peak_mm")),
        (found.duct_velocities_m_s[0].value, most("port_rear_v_peak_m_s")),
    ] {
        assert!(value >= largest * (1.0 - 1e-4) && value < largest * 1.005, "{value}, {largest}");
    }
    let least = curve.column("z_ohm").into_iter().fold(f64::MAX, f64::min);
    assert_near(found.impedance_minimum.value.ohms(), least, 2e-3 * least);
    // Two impedance peaks about the tuning, a minimum at it, and one in the pass band.
    let peaks: Vec<f64> = found.impedance_peaks.iter().map(|p| p.at.hertz()).collect();
    assert_eq!(peaks.len(), 2);
    assert!(peaks[0] < 28.0 && peaks[1] > 28.0, "{peaks:?}");
    assert!(found.impedance_minimum_above_peaks.at.hertz() > peaks[1]);
}

// Closed box without inductance: |Z| peaks at fc, where it is Re·(1 + Qmc/Qec) = Re + Bl²/Rms (Small 1972).
#[test]
fn the_impedance_peak_of_a_closed_box_is_at_fc() {
    let network = Enclosure::Closed {
        rear: SealedChamber { volume: Volume::from_litres(25.0), losses: Losses::default() },
    }
    .network(Load::single(rig::a10()), Air::standard())
    .unwrap();
    let response = rig::at_2v83(&network, &log_grid(10.0, 500.0, 1000));
    let found = figures(&network, Voltage::from_volts(2.83), &response).unwrap();
    let peak = found.impedance_peaks[0];
    let fc = 28.470_501_736_7 * (1.0 + 0.038_620_023_75 / 0.025_f64).sqrt();
    assert_eq!(found.impedance_peaks.len(), 1);
    assert_near(peak.at.hertz(), fc, 1e-3 * fc);
    assert_near(peak.value.ohms(), 3.3 + 12.5 * 12.5 / 3.4, 0.05);
}

#[test]
fn a_response_without_points_has_no_figures() {
    let network = vb1();
    let volts = Voltage::from_volts(2.83);
    assert!(figures(&network, volts, &Response::default()).is_err());
    let downwards = rig::at_2v83(&network, &[50.0, 20.0]);
    assert!(figures(&network, volts, &downwards).is_err());
    let one = rig::at_2v83(&network, &[50.0]);
    assert!(figures(&network, volts, &one).is_ok());
    assert!(figures(&network, Voltage::from_volts(0.0), &one).is_err());
}
