//! Data sheets of the invented reference drivers, whose small-signal sets `data/acoustics/cases` derives independently.
use crate::assert_near;
use kerf_and_coil::model::acoustics::datasheet::{
    Cause, Connection, DataSheet, DataSheetError, Origin, Parameter, Printed, Resolved, resolve,
};
use kerf_and_coil::model::acoustics::{Air, CoilImpedance};

/// The 10 inch driver, physical set exact, small-signal set as `cases/vented/vb3.json` derives it (20 °C Vas from
/// `tables/efficiency_examples.csv` onwards: ρc² depends on pressure only), rounded as a data sheet would.
fn sheet() -> DataSheet {
    DataSheet {
        fs: Some(Printed::new(28.5, 0.05)),
        re_per_coil: Some(Printed::new(3.3, 0.05)),
        qes: Some(Printed::new(0.472, 0.0005)),
        qms: Some(Printed::new(6.58, 0.005)),
        qts: Some(Printed::new(0.441, 0.0005)),
        vas: Some(Printed::new(0.0386, 0.00005)),
        sd: Some(Printed::new(0.033, 0.00005)),
        xmax: Some(Printed::new(0.012, 0.00005)),
        le: Some(Printed::new(0.0016, 0.00005)),
        mms: Some(Printed::new(0.125, 0.0005)),
        cms: Some(Printed::new(0.00025, 0.000005)),
        bl: Some(Printed::new(12.5, 0.05)),
        ..DataSheet::default()
    }
}

/// A driver with two coils of 3.3 Ω that is the 10 inch driver when they are in parallel at 1.65 Ω: Bl 12.5/√2.
fn two_coils(measured: Connection) -> DataSheet {
    let one = 12.5 / 2f64.sqrt();
    let (bl, qes, qts, le) = match measured {
        Connection::Parallel => (one, 0.472_258, 0.440_618, 0.0008),
        Connection::Series => (2.0 * one, 0.472_258, 0.440_618, 0.0032),
        // One coil alone brakes half as much: Qes doubles.
        Connection::OneCoil => (one, 0.944_515, 0.825_900, 0.0008),
    };
    DataSheet {
        coils: 2,
        measured,
        fs: Some(Printed::new(28.4705, 0.00005)),
        qes: Some(Printed::new(qes, 5e-6)),
        qms: Some(Printed::new(6.576_67, 5e-6)),
        qts: Some(Printed::new(qts, 5e-6)),
        vas: Some(Printed::new(0.038_620, 5e-7)),
        re_per_coil: Some(Printed::new(3.3, 0.0005)),
        bl: Some(Printed::new(bl, 0.0005)),
        le: Some(Printed::new(le, 5e-8)),
        ..sheet()
    }
}

fn without(mut sheet: DataSheet, parameters: &[Parameter]) -> DataSheet {
    for parameter in parameters {
        match parameter {
            Parameter::Fs => sheet.fs = None,
            Parameter::Qes => sheet.qes = None,
            Parameter::Qms => sheet.qms = None,
            Parameter::Vas => sheet.vas = None,
            Parameter::Sd => sheet.sd = None,
            Parameter::Re => sheet.re_per_coil = None,
            Parameter::Qts => sheet.qts = None,
            Parameter::Mms => sheet.mms = None,
            Parameter::Cms => sheet.cms = None,
            Parameter::Bl => sheet.bl = None,
            Parameter::Xmax => sheet.xmax = None,
            Parameter::Vd => sheet.vd = None,
            Parameter::Le => sheet.le = None,
        }
    }
    sheet
}

fn origin(resolved: &Resolved, parameter: Parameter) -> Origin {
    resolved.values.iter().find(|v| v.parameter == parameter).unwrap().origin
}

#[test]
fn a_full_sheet_gives_the_driver_and_fits_itself() {
    let resolved = resolve(&sheet()).unwrap();
    assert_eq!(resolved.contradictions, []);
    // Within the rounding of the printed values, mostly that of Sd, Vas and Re.
    assert_near(resolved.driver.mms.kilograms(), 0.125, 0.001);
    assert_near(resolved.driver.bl.tesla_metres(), 12.5, 0.1);
    assert_near(resolved.driver.cms.metres_per_newton(), 0.00025, 2e-6);
    assert_near(resolved.driver.rms_ns_m, 3.4, 0.03);
    assert_near(resolved.qts, 0.441, 0.0006);
    // η0 and its level as cases/bandpass4/bp4_3.json derives them at 20 °C.
    assert_near(resolved.reference_efficiency, 0.001_842, 2e-5);
    assert_near(resolved.sensitivity_1w_db, 84.814, 0.05);
    assert_eq!(origin(&resolved, Parameter::Qes), Origin::Given);
    assert_eq!(origin(&resolved, Parameter::Bl), Origin::Derived);
}

/// Every subset of one to four of the ten related values left out: it resolves to the same driver, or says what is
/// missing, and what it says is indeed enough.
#[test]
fn any_sufficient_subset_gives_the_same_driver() {
    let related = [
        Parameter::Fs,
        Parameter::Qes,
        Parameter::Qms,
        Parameter::Vas,
        Parameter::Sd,
        Parameter::Re,
        Parameter::Qts,
        Parameter::Mms,
        Parameter::Cms,
        Parameter::Bl,
    ];
    let exact = DataSheet {
        coils: 1,
        re_per_coil: Some(Printed::new(3.3, 0.0)),
        bl: Some(Printed::new(12.5, 0.0)),
        fs: Some(Printed::new(28.470_501_736_7, 0.0)),
        qes: Some(Printed::new(0.472_257_556_848, 0.0)),
        qms: Some(Printed::new(6.576_670_522_06, 0.0)),
        qts: Some(Printed::new(0.440_617_682_316, 0.0)),
        vas: Some(Printed::new(0.038_620_023_75, 0.0)),
        ..sheet()
    };
    let (mut complete, mut lacking) = (0, 0);
    for mask in 1u32..1 << related.len() {
        if mask.count_ones() > 5 {
            continue;
        }
        let dropped: Vec<Parameter> =
            (0..related.len()).filter(|i| mask >> i & 1 == 1).map(|i| related[i]).collect();
        match resolve(&without(exact, &dropped)) {
            Ok(resolved) => {
                complete += 1;
                assert_near(resolved.driver.mms.kilograms(), 0.125, 1e-8);
                assert_near(resolved.driver.bl.tesla_metres(), 12.5, 1e-7);
                assert_near(resolved.driver.re.ohms(), 3.3, 1e-7);
                assert_near(resolved.driver.rms_ns_m, 3.4, 1e-6);
                assert_near(resolved.driver.sd.square_metres(), 0.033, 1e-8);
            }
            Err(DataSheetError::Missing { smallest }) => {
                lacking += 1;
                assert!(!smallest.is_empty());
                for set in smallest {
                    let still: Vec<Parameter> =
                        dropped.iter().filter(|p| !set.contains(p)).copied().collect();
                    assert!(resolve(&without(exact, &still)).is_ok(), "{dropped:?} and {set:?}");
                }
            }
            Err(DataSheetError::Model(error)) => panic!("{dropped:?}: {error}"),
        }
    }
    assert!(complete > 100 && lacking > 50, "{complete} complete, {lacking} lacking");
}

#[test]
fn what_is_missing_is_named_in_its_smallest_sets() {
    let sheet = without(sheet(), &[Parameter::Vas, Parameter::Mms, Parameter::Cms, Parameter::Bl]);
    let Err(DataSheetError::Missing { smallest }) = resolve(&sheet) else {
        panic!("the sheet has nothing to tell the mass from");
    };
    assert_eq!(smallest, [[Parameter::Vas], [Parameter::Mms], [Parameter::Cms], [Parameter::Bl]]);
}

// Rules of circuits.md, section 2.3; `ngspice.rs` checks them against coupled inductors.
#[test]
fn the_connection_measured_does_not_change_the_driver() {
    for measured in [Connection::Parallel, Connection::Series, Connection::OneCoil] {
        let resolved = resolve(&two_coils(measured)).unwrap();
        assert_eq!(resolved.contradictions, [], "{measured:?}");
        let driver = resolved.driver;
        assert_near(driver.re.ohms(), 6.6, 1e-9);
        assert_near(driver.bl.tesla_metres(), 12.5 * 2f64.sqrt(), 2e-4);
        assert_near(resolved.small_signal.qes, 0.472_258, 2e-6);
        assert_near(resolved.qts, 0.440_618, 2e-6);
        let CoilImpedance::L { le } = driver.coil else {
            panic!("{:?}", driver.coil);
        };
        assert_near(le.henries(), 0.0032, 1e-12);
    }
}

fn causes(sheet: &DataSheet) -> Vec<(Parameter, Vec<Cause>)> {
    resolve(sheet).unwrap().contradictions.into_iter().map(|c| (c.parameter, c.causes)).collect()
}

#[test]
fn data_for_the_other_connection_are_recognised() {
    let found = causes(&DataSheet { measured: Connection::Parallel, ..two_coils(Connection::Series) });
    assert_eq!(found, [(Parameter::Bl, vec![Cause::MeasuredIn(Connection::Series)])]);
    let found = causes(&DataSheet { measured: Connection::Series, ..two_coils(Connection::Parallel) });
    assert_eq!(found, [(Parameter::Bl, vec![Cause::MeasuredIn(Connection::Parallel)])]);
    // The resistance of both coils typed in as that of one.
    let found =
        causes(&DataSheet { re_per_coil: Some(Printed::new(6.6, 0.0005)), ..two_coils(Connection::Series) });
    assert_eq!(found.len(), 1);
    assert!(found[0].1.contains(&Cause::ResistanceOfConnection), "{found:?}");
    // One coil declared, Bl of two in series with Re of two in parallel.
    let found = causes(&DataSheet { bl: Some(Printed::new(25.0, 0.05)), ..sheet() });
    let cause = Cause::ResistanceOfOtherConnection { factor: 4.0 };
    assert_eq!(found, [(Parameter::Bl, vec![cause])]);
}

#[test]
fn wrong_units_are_recognised() {
    // 38.6 litres typed as cubic feet, and the other way round.
    for factor in [28.316_846_592, 1.0 / 28.316_846_592, 1000.0] {
        let wrong = DataSheet { vas: Some(Printed::new(0.0386 * factor, 0.00005 * factor)), ..sheet() };
        let found = causes(&wrong);
        assert_eq!(found.len(), 3, "Mms, Cms and Bl: {found:?}");
        for (_, causes) in found {
            let [Cause::Unit { parameter, factor: undo }] = causes[..] else {
                panic!("{causes:?}");
            };
            assert_eq!(parameter, Parameter::Vas);
            assert_near(undo * factor, 1.0, 1e-9);
        }
    }
    // 330 cm² typed as 330 in².
    let found = causes(&DataSheet { sd: Some(Printed::new(0.033 * 6.4516, 0.00005 * 6.4516)), ..sheet() });
    assert!(
        found.iter().all(|(_, causes)| matches!(causes[..], [Cause::Unit { parameter: Parameter::Sd, .. }])),
        "{found:?}"
    );
    assert!(!found.is_empty());
}

#[test]
fn a_plain_misprint_has_no_cause() {
    let found = causes(&DataSheet { qts: Some(Printed::new(0.47, 0.005)), ..sheet() });
    assert_eq!(found, [(Parameter::Qts, vec![])]);
}

/// Judged by the digits as printed: 0.44 and 0.4 fit what 0.46 doesn't.
#[test]
fn digits_decide() {
    for (value, half_digit, fits) in
        [(0.44, 0.005, true), (0.4, 0.05, true), (0.46, 0.005, false), (0.4, 0.005, false)]
    {
        let found = causes(&DataSheet { qts: Some(Printed::new(value, half_digit)), ..sheet() });
        assert_eq!(found.is_empty(), fits, "{value} ± {half_digit}");
    }
}

#[test]
fn an_excursion_from_peak_to_peak_is_recognised() {
    let doubled = DataSheet { xmax: Some(Printed::new(0.024, 0.00005)), ..sheet() };
    // Nothing else to judge it by: no contradiction.
    assert_eq!(causes(&doubled), []);
    let winding = DataSheet {
        coil_height: Some(Printed::new(0.034, 0.00005)),
        gap_height: Some(Printed::new(0.010, 0.00005)),
        ..doubled
    };
    let displacement = DataSheet { vd: Some(Printed::new(0.000_396, 5e-7)), ..doubled };
    let limit = DataSheet { xmech: Some(Printed::new(0.018, 0.00005)), ..doubled };
    for (sheet, parameter) in
        [(winding, Parameter::Xmax), (displacement, Parameter::Vd), (limit, Parameter::Xmax)]
    {
        assert_eq!(causes(&sheet), [(parameter, vec![Cause::XmaxPeakToPeak])]);
        let right = DataSheet { xmax: Some(Printed::new(0.012, 0.00005)), ..sheet };
        assert_eq!(causes(&right), []);
    }
}

#[test]
fn impossible_sheets_are_refused() {
    let above = DataSheet { qts: Some(Printed::new(7.0, 0.05)), qes: None, bl: None, ..sheet() };
    for sheet in [
        above,
        DataSheet { coils: 3, ..sheet() },
        DataSheet { fs: Some(Printed::new(f64::NAN, 0.0)), ..sheet() },
        DataSheet { sd: Some(Printed::new(0.0, 0.0)), ..sheet() },
        DataSheet { vas: Some(Printed::new(0.05, f64::INFINITY)), ..sheet() },
    ] {
        assert!(matches!(resolve(&sheet), Err(DataSheetError::Model(_))), "{sheet:?}");
    }
    let empty = resolve(&DataSheet::default());
    assert!(matches!(empty, Err(DataSheetError::Missing { .. })));
    assert_near(Air::standard().bulk_modulus_pa(), 141_855.0, 0.5);
}
