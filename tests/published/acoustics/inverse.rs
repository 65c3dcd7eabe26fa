//! Starting points and inverse questions against the published tables and against the ports they speak of.
use super::{Table, rig};
use crate::assert_near;
use kerf_and_coil::model::acoustics::figures::figures;
use kerf_and_coil::model::acoustics::search::Tube;
use kerf_and_coil::model::acoustics::search::alignments::{Alignment, Start, starts};
use kerf_and_coil::model::acoustics::search::inverse::{
    PortAnswer, QtcAnswer, port_for_tuning, volume_for_qtc,
};
use kerf_and_coil::model::acoustics::{Air, End, Load, Opening, Port, Wiring};
use kerf_and_coil::model::numeric::log_grid;
use kerf_and_coil::units::{Frequency, Length, Voltage, Volume};

const FS: f64 = 30.0;
const VAS_LITRES: f64 = 100.0;

fn start_of(qts: f64, wanted: impl Fn(&Start) -> bool) -> Option<Start> {
    let load = Load::single(rig::driver_of(FS, qts, VAS_LITRES));
    starts(&load, &Air::standard()).unwrap().into_iter().find(wanted)
}

// Table vented_box_alignments.csv at QL = 7: Small 1973, five decimals.
#[test]
fn vented_starts_are_the_table_at_its_rows() {
    let mut rows = 0;
    for row in Table::read("tables/vented_box_alignments.csv").rows() {
        let alignment = match row.text("alignment") {
            "QB3" => Alignment::VentedQuasi,
            "B4" => Alignment::VentedButterworth,
            "C4" => Alignment::VentedChebyshev,
            _ => continue,
        };
        let qt = row.number("Qt");
        if row.number("QL") != 7.0 || qt < 0.181 {
            continue;
        }
        let start = start_of(qt, |start| start.tuning.is_some()).unwrap();
        // The rows beside B4 are within the width that counts as B4.
        if (qt - 0.404_81).abs() > 0.01 || alignment == Alignment::VentedButterworth {
            assert_eq!(start.alignment, alignment, "{qt}");
        }
        assert_near(start.tuning.unwrap().hertz(), row.number("h_fb_over_fs") * FS, 1e-3);
        let litres = VAS_LITRES / row.number("alpha_Vas_over_Vb");
        assert_near(start.net.litres(), litres, 1e-4 * litres);
        assert_near(start.f3.hertz(), row.number("f3_over_fs") * FS, 2e-3);
        rows += 1;
    }
    assert!(rows >= 18, "{rows}");
}

/// Between the rows the box built from parts has the f3 that is promised.
#[test]
fn vented_starts_between_the_rows_keep_their_promise() {
    for qts in [0.19, 0.23, 0.27, 0.33, 0.39, 0.43, 0.47, 0.525, 0.575] {
        let start = start_of(qts, |start| start.tuning.is_some()).unwrap();
        let driver = rig::driver_of(FS, qts, VAS_LITRES);
        let network = rig::vented(driver, start.net, start.tuning.unwrap().hertz(), Some(7.0));
        let response = rig::at_2v83(&network, &log_grid(5.0, 3000.0, 3000));
        let found = figures(&network, Voltage::from_volts(2.83), &response).unwrap();
        let f3 = found.f3.unwrap().hertz();
        assert_near(start.f3.hertz(), f3, 0.012 * f3);
        assert!(found.loudest_db.value - found.reference_level_db < 0.6, "{qts}");
    }
    assert!(start_of(0.1, |start| start.tuning.is_some()).is_none());
    assert!(start_of(0.7, |start| start.tuning.is_some()).is_none());
}

// Table closed_box_qtc.csv: Small 1972.
#[test]
fn closed_starts_are_the_table() {
    let table = Table::read("tables/closed_box_qtc.csv");
    for (alignment, qtc) in [
        (Alignment::ClosedCritical, 0.5),
        (Alignment::ClosedBessel, 0.577_35),
        (Alignment::ClosedButterworth, std::f64::consts::FRAC_1_SQRT_2),
        (Alignment::ClosedFull, 1.0),
    ] {
        let row = table.rows().find(|row| (row.number("Qtc") - qtc).abs() < 1e-5).unwrap();
        let start = start_of(0.35, |start| start.alignment == alignment).unwrap();
        // fc = fs·Qtc/Qts.
        assert_near(start.f3.hertz(), row.number("f3_over_fc") * FS * qtc / 0.35, 2e-3);
        let litres = VAS_LITRES / ((qtc / 0.35_f64).powi(2) - 1.0);
        assert_near(start.net.litres(), litres, 1e-4 * litres);
    }
    assert!(start_of(0.6, |start| start.alignment == Alignment::ClosedCritical).is_none());
    // Two drivers have twice the Vas.
    let pair = Load { driver: rig::driver_of(FS, 0.35, VAS_LITRES), wiring: Wiring::of_drivers(1, 2) };
    let both = starts(&pair, &Air::standard()).unwrap();
    let one = starts(&Load::single(pair.driver), &Air::standard()).unwrap();
    for (both, one) in both.iter().zip(&one) {
        assert_near(both.net.litres(), 2.0 * one.net.litres(), 1e-9 * one.net.litres());
    }
}

#[test]
fn a_volume_for_a_qtc_or_what_the_space_gives() {
    let air = Air::standard();
    let load = Load::single(rig::driver_of(FS, 0.35, VAS_LITRES));
    // Small 1972: α = (Qtc/Qts)² − 1.
    let litres = VAS_LITRES / ((0.7_f64 / 0.35).powi(2) - 1.0);
    match volume_for_qtc(&load, 0.7, Volume::from_litres(60.0), &air).unwrap() {
        QtcAnswer::Volume(volume) => assert_near(volume.litres(), litres, 1e-3),
        other => panic!("{other:?}"),
    }
    match volume_for_qtc(&load, 0.7, Volume::from_litres(20.0), &air).unwrap() {
        QtcAnswer::TooLarge { needed, qtc } => {
            assert_near(needed.litres(), litres, 1e-3);
            assert_near(qtc, 0.35 * 6f64.sqrt(), 1e-4);
        }
        other => panic!("{other:?}"),
    }
    match volume_for_qtc(&load, 0.3, Volume::from_litres(60.0), &air).unwrap() {
        QtcAnswer::NotBelow(qts) => assert_near(qts, 0.35, 1e-4),
        other => panic!("{other:?}"),
    }
    assert!(volume_for_qtc(&load, f64::NAN, Volume::from_litres(60.0), &air).is_err());
}

fn pipe(millimetres: f64) -> Port {
    Port {
        opening: Opening::Round { diameter: Length::from_millimetres(millimetres) },
        length: Length::from_metres(0.0),
        inner: End::Free,
        outer: End::Flanged,
        count: 1,
        qp: None,
    }
}

// By hand at 20 °C, c = 343.24 m/s (circuits.md): 30 l, 32 Hz, 100 mm pipe: Leff = (c/2πf)²·S/V = 2.9144 · 0.0078540 /
// 0.03 = 0.76298 m, less (0.6133 + 0.8217)·50 mm = 71.75 mm: 691.2 mm.
#[test]
fn a_pipe_for_a_tuning_or_what_would_do() {
    let (air, volume, fb) = (Air::standard(), Volume::from_litres(30.0), Frequency::from_hertz(32.0));
    let mm = Length::from_millimetres;
    let tube = |inside, count| Tube { inside: mm(inside), wall: mm(3.0), count };
    let tubes = [tube(50.0, 1), tube(68.0, 1), tube(75.0, 1), tube(50.0, 2)];
    let ask = |longest: f64| port_for_tuning(&pipe(100.0), fb, volume, [mm(36.0), mm(longest)], &tubes, &air);
    match ask(800.0).unwrap() {
        PortAnswer::Length(length) => assert_near(length.millimetres(), 691.2, 0.1),
        other => panic!("{other:?}"),
    }
    let PortAnswer::TooLong(answer) = ask(340.0).unwrap() else { panic!("it is too long") };
    assert_near(answer.needed.millimetres(), 691.2, 0.1);
    // Each way out is a port that does what it promises.
    let longest = Port { length: mm(340.0), ..pipe(100.0) };
    assert_near(longest.tuning(volume, &air).unwrap().hertz(), answer.tuning.hertz(), 1e-9);
    assert!(answer.tuning.hertz() > 32.0);
    assert_near(longest.tuning(answer.volume, &air).unwrap().hertz(), 32.0, 1e-9);
    let shrunk = Port { length: mm(340.0), ..pipe(100.0 * answer.area_share.sqrt()) };
    assert_near(shrunk.tuning(volume, &air).unwrap().hertz(), 32.0, 1e-9);
    let (tube, length) = answer.tube.unwrap();
    assert_near(tube.inside.millimetres(), 68.0, 1e-9);
    let other = Port { length, ..pipe(68.0) };
    assert_near(other.tuning(volume, &air).unwrap().hertz(), 32.0, 1e-9);
    assert!(length.millimetres() <= 340.0);
    // 75 mm, the next wider, would not do.
    let wider = pipe(75.0).length_for_tuning(fb, volume, &air).unwrap().unwrap();
    assert!(wider.millimetres() > 340.0);

    let high = port_for_tuning(
        &pipe(50.0),
        Frequency::from_hertz(200.0),
        volume,
        [mm(36.0), mm(340.0)],
        &tubes,
        &air,
    );
    let PortAnswer::NotSoHigh(hole) = high.unwrap() else { panic!("a hole tunes lower") };
    let shortest = Port { length: mm(36.0), ..pipe(50.0) };
    assert_near(hole.hertz(), shortest.tuning(volume, &air).unwrap().hertz(), 1e-9);
    assert!(port_for_tuning(&pipe(50.0), fb, volume, [mm(36.0), mm(30.0)], &tubes, &air).is_err());
    assert!(
        port_for_tuning(&pipe(50.0), Frequency::from_hertz(0.0), volume, [mm(36.0), mm(300.0)], &tubes, &air)
            .is_err()
    );
}
