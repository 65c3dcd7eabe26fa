//! The network against the published alignments of `data/acoustics/tables`.
//!
//! Every box is built from parts (driver, volume, port length) and its limits are read off the computed curve.
use super::{Table, rig};
use crate::assert_near;
use kerf_and_coil::model::acoustics::figures::{Figures, figures, reference_level_db};
use kerf_and_coil::model::acoustics::{
    Air, Enclosure, Load, Losses, Network, SealedChamber, VentedChamber, closed_box_frequency, closed_box_q,
    closed_box_volume,
};
use kerf_and_coil::model::numeric::log_grid;
use kerf_and_coil::units::{Voltage, Volume};

const FS: f64 = 30.0;
const VAS_LITRES: f64 = 100.0;

fn read_off(network: &Network) -> Figures {
    let response = rig::at_2v83(network, &log_grid(5.0, 6000.0, 6000));
    figures(network, Voltage::from_volts(2.83), &response).unwrap()
}

// Table closed_box_qtc.csv: Small 1972, solved and checked by root finding; good to 1e-4.
#[test]
fn closed_boxes_match_the_table() {
    let air = Air::standard();
    for row in Table::read("tables/closed_box_qtc.csv").rows() {
        let qtc = row.number("Qtc");
        let load = Load::single(rig::driver_of(FS, 0.3, VAS_LITRES));
        let volume = closed_box_volume(&load, qtc, &air).unwrap().unwrap();
        assert_near(closed_box_q(&load, volume, &air).unwrap(), qtc, 1e-9);
        let fc = closed_box_frequency(&load, volume, &air).unwrap().hertz();
        assert_near(fc, FS * qtc / 0.3, 1e-9 * fc);
        let network = Enclosure::Closed { rear: SealedChamber { volume, losses: Losses::default() } }
            .network(load, air)
            .unwrap();
        let found = read_off(&network);
        let expected = row.number("f3_over_fc");
        assert_near(found.f3.unwrap().hertz() / fc, expected, 1e-4 * expected);
        if let Some(peak_at) = row.optional("fpeak_over_fc") {
            let gain = found.loudest_db.value - found.reference_level_db;
            assert_near(gain, row.number("peak_db"), 1e-4);
            // The table's five decimals; a flat peak is found less sharply than it is high.
            assert_near(found.loudest_db.at.hertz() / fc, peak_at, 1e-3 * peak_at);
        }
        let level = rig::at_2v83(&network, &[fc]).spl_db[0];
        assert_near(level - found.reference_level_db, row.number("gain_at_fc_db"), 1e-4);
    }
    let load = Load::single(rig::driver_of(FS, 0.8, VAS_LITRES));
    assert_eq!(closed_box_volume(&load, 0.7, &air).unwrap(), None);
}

fn check_vented(qt: f64, h: f64, alpha: f64, ql: f64) -> Figures {
    let driver = rig::driver_of(FS, qt, VAS_LITRES);
    let ql = ql.is_finite().then_some(ql);
    read_off(&rig::vented(driver, Volume::from_litres(VAS_LITRES / alpha), h * FS, ql))
}

// Tables vented_box_alignments.csv and vented_box_b4_vs_ql.csv: Small 1973; Qt, h and α printed to 5 decimals.
#[test]
fn vented_alignments_match_the_tables() {
    for path in ["tables/vented_box_alignments.csv", "tables/vented_box_b4_vs_ql.csv"] {
        for row in Table::read(path).rows() {
            let found = check_vented(
                row.number("Qt"),
                row.number("h_fb_over_fs"),
                row.number("alpha_Vas_over_Vb"),
                row.number("QL"),
            );
            for (edge, column) in [(found.f3, "f3_over_fs"), (found.f10, "f10_over_fs")] {
                let expected = row.number(column);
                assert_near(edge.unwrap().hertz() / FS, expected, 2e-4 * expected);
            }
            let peak = found.loudest_db.value - found.reference_level_db;
            assert_near(peak, row.number("peak_db"), 1e-3);
        }
    }
}

// Table thiele_table_crosscheck.csv: Thiele 1971, alignments 1 to 9 in three printed digits, from memory; the table's own
// solutions differ from them by up to 1.4 % in α and 0.8 % in f3.
#[test]
fn thieles_printed_alignments_have_their_printed_limits() {
    for row in Table::read("tables/thiele_table_crosscheck.csv").rows() {
        let found = check_vented(
            row.number("Qt_printed"),
            row.number("h_printed"),
            row.number("alpha_printed"),
            f64::INFINITY,
        );
        let expected = row.number("f3_fs_printed");
        assert_near(found.f3.unwrap().hertz() / FS, expected, 0.014 * expected);
    }
}

// Table bandpass4_symmetric.csv: symmetric 4th-order band-pass, six digits.
#[test]
fn symmetric_band_passes_match_the_table() {
    let air = Air::standard();
    for row in Table::read("tables/bandpass4_symmetric.csv").rows() {
        let qtc = row.number("Qtc");
        let qts = 0.6 * qtc;
        let load = Load::single(rig::driver_of(FS, qts, VAS_LITRES));
        let rear = closed_box_volume(&load, qtc, &air).unwrap().unwrap();
        let fc = closed_box_frequency(&load, rear, &air).unwrap().hertz();
        let front = Volume::from_litres(row.number("Vf_over_QtsSq_Vas") * qts * qts * VAS_LITRES);
        let network = Enclosure::Bandpass4 {
            rear: SealedChamber { volume: rear, losses: Losses::default() },
            front: VentedChamber { volume: front, losses: Losses::default(), port: rig::port_for(fc, front) },
        }
        .network(load, air)
        .unwrap();
        let edges = [row.number("fL_over_fc") * fc, fc, row.number("fH_over_fc") * fc];
        let response = rig::at_2v83(&network, &edges);
        let reference = reference_level_db(&network, Voltage::from_volts(2.83)).unwrap();
        let middle = response.spl_db[1];
        assert_near(middle - reference, row.number("midband_gain_db"), 1e-3);
        for edge in [response.spl_db[0], response.spl_db[2]] {
            assert_near(edge - middle, row.number("level_db"), 1e-3);
        }
        let top = read_off(&network).loudest_db.value;
        assert_near(top - middle, row.number("ripple_db"), 1e-3);
    }
}
