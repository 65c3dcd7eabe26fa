//! The 21 reference cases: curves computed by three independent programs, among them ngspice (`data/acoustics/README.md`).
use super::{Table, reference_cases};
use kerf_and_coil::design::case::case_csv;

/// Largest differences of one case from its reference curve.
#[derive(Clone, Copy, Default)]
struct Worst {
    spl_db: f64,
    phase_deg: f64,
    relative: f64,
    delay_ms: f64,
}

/// Compares curves at the tolerances the README of the data justifies: 0.01 dB, 0.1°, 0.1 % in x, v and |Z|, and
/// 0.02 ms + 0.2 % in group delay; phase and delay only where the level is within 40 dB of its maximum.
fn compare(name: &str, actual: &Table, expected: &Table) -> Worst {
    assert_eq!(actual.header(), expected.header(), "{name}");
    assert_eq!(expected.rows().count(), 200, "{name}");
    assert_eq!(actual.rows().count(), 200, "{name}");
    let loudest = expected.column("spl_db").into_iter().fold(f64::NEG_INFINITY, f64::max);
    let mut worst = Worst::default();
    for (got, want) in actual.rows().zip(expected.rows()) {
        let audible = want.number("spl_db") > loudest - 40.0;
        for column in expected.header() {
            let (a, e) = (got.number(column), want.number(column));
            let difference = (a - e).abs();
            let (slot, error, tolerance) = match column.as_str() {
                "spl_db" => (&mut worst.spl_db, difference, 0.01),
                "p_phase_deg" | "z_phase_deg" => {
                    if column == "p_phase_deg" && !audible {
                        continue;
                    }
                    (&mut worst.phase_deg, difference.min(360.0 - difference), 0.1)
                }
                "gd_ms" => {
                    if !audible {
                        continue;
                    }
                    (&mut worst.delay_ms, difference, 0.02 + 0.002 * e.abs())
                }
                "f_hz" => (&mut worst.relative, difference / e, 1e-8),
                _ => (&mut worst.relative, difference / e.abs(), 1e-3),
            };
            *slot = slot.max(error);
            assert!(error <= tolerance, "{name}, {} Hz, {column}: got {a}, expected {e}", want.text("f_hz"));
        }
    }
    worst
}

#[test]
fn all_reference_cases_agree() {
    let mut count = 0;
    let mut worst = Worst::default();
    for path in reference_cases() {
        let json = std::fs::read_to_string(&path).unwrap();
        let reference = std::fs::read_to_string(path.with_extension("csv")).unwrap();
        let name = path.file_stem().unwrap().to_string_lossy();
        let csv = case_csv(&json).unwrap_or_else(|e| panic!("{name}: {e}"));
        let case = compare(&name, &Table::parse(&csv), &Table::parse(&reference));
        println!(
            "{name}: {:.1e} dB, {:.1e}°, {:.1e} relative, {:.1e} ms",
            case.spl_db, case.phase_deg, case.relative, case.delay_ms
        );
        worst.spl_db = worst.spl_db.max(case.spl_db);
        worst.phase_deg = worst.phase_deg.max(case.phase_deg);
        worst.relative = worst.relative.max(case.relative);
        worst.delay_ms = worst.delay_ms.max(case.delay_ms);
        count += 1;
    }
    println!(
        "worst: {:.1e} dB, {:.1e}°, {:.1e} relative, {:.1e} ms",
        worst.spl_db, worst.phase_deg, worst.relative, worst.delay_ms
    );
    assert_eq!(count, 21);
}
