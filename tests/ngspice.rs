//! The solver against a circuit simulator, live: ngspice runs each netlist of the reference data, and its curves are
//! compared with ours at the tolerances `tests/published/data/acoustics/README.md` justifies.
//!
//! Without ngspice these checks are left out with a message, unless `CI` or `KC_REQUIRE_NGSPICE` is set.
#[path = "ngspice/unequal.rs"]
mod unequal;

use kerf_and_coil::design::case::case_csv;
use kerf_and_coil::model::acoustics::datasheet::{Connection, DataSheet, Printed, resolve};
use kerf_and_coil::model::acoustics::{
    Air, CoilImpedance, Driver, Enclosure, Load, Response, Wiring, respond,
};
use kerf_and_coil::units::{Area, Compliance, ForceFactor, Inductance, Mass, Resistance, Voltage};
use std::f64::consts::TAU;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

/// Fails, showing both values, unless `actual` is within `tolerance` of `expected`.
#[track_caller]
fn assert_near(what: &str, actual: f64, expected: f64, tolerance: f64) {
    let difference = (actual - expected).abs();
    assert!(difference <= tolerance, "{what}: got {actual}, ngspice has {expected}");
}

fn data(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/published/data/acoustics").join(path)
}

/// Whether ngspice is there; fails where it has to be.
fn ngspice_is_there() -> bool {
    let version =
        Command::new("ngspice").arg("--version").stdout(Stdio::null()).stderr(Stdio::null()).status();
    let there = version.is_ok_and(|status| status.success());
    let required = ["CI", "KC_REQUIRE_NGSPICE"].iter().any(|name| std::env::var_os(name).is_some());
    assert!(
        there || !required,
        "ngspice is not installed, and CI or KC_REQUIRE_NGSPICE demands it (Debian package ngspice)"
    );
    if !there {
        eprintln!("ngspice is not installed: comparison left out");
    }
    there
}

/// A table of named columns.
struct Curves {
    names: Vec<String>,
    rows: Vec<Vec<f64>>,
}

impl Curves {
    fn parse(text: &str, separator: impl Fn(&str) -> Vec<String>) -> Self {
        let mut lines = text.lines();
        let names = separator(lines.next().expect("a header line"));
        let rows: Vec<Vec<f64>> = lines
            .map(|line| separator(line).iter().map(|cell| cell.parse().expect("a number")).collect())
            .collect();
        assert!(rows.iter().all(|row| row.len() == names.len()));
        Self { names, rows }
    }

    fn column(&self, name: &str) -> Vec<f64> {
        let index = self.names.iter().position(|n| n == name).unwrap_or_else(|| panic!("no column {name}"));
        self.rows.iter().map(|row| row[index]).collect()
    }
}

/// Runs a netlist in a folder of its own and reads what it writes.
fn simulate(netlist: &Path) -> Curves {
    let name = netlist.file_stem().unwrap();
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("ngspice").join(name);
    std::fs::create_dir_all(&folder).unwrap();
    let output = folder.join(name).with_extension("out");
    let _ = std::fs::remove_file(&output);
    let run = Command::new("ngspice")
        .arg("-b")
        .arg(netlist)
        .current_dir(&folder)
        .stdin(Stdio::null())
        .output()
        .unwrap();
    let text = std::fs::read_to_string(&output)
        .unwrap_or_else(|e| panic!("{}: {e}\n{}", netlist.display(), String::from_utf8_lossy(&run.stderr)));
    Curves::parse(&text, |line| line.split_whitespace().map(str::to_owned).collect())
}

fn netlists() -> Vec<PathBuf> {
    let mut found = Vec::new();
    for kind in std::fs::read_dir(data("cases")).unwrap() {
        let kind = kind.unwrap().path();
        if kind.is_dir() {
            let files = std::fs::read_dir(kind).unwrap().map(|file| file.unwrap().path());
            found.extend(files.filter(|file| file.extension().is_some_and(|e| e == "cir")));
        }
    }
    found.sort();
    found
}

fn compare_case(netlist: &Path) {
    let name = netlist.file_stem().unwrap().to_string_lossy().into_owned();
    let json = std::fs::read_to_string(netlist.with_extension("json")).unwrap();
    let ours = Curves::parse(&case_csv(&json).unwrap(), |line| line.split(',').map(str::to_owned).collect());
    let theirs = simulate(netlist);
    assert_eq!((ours.rows.len(), theirs.rows.len()), (200, 200), "{name}");
    assert_eq!(ours.names, theirs.names, "{name}");
    let levels = theirs.column("spl_db");
    let loudest = levels.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    for column in &theirs.names {
        for ((a, e), level) in ours.column(column).iter().zip(theirs.column(column)).zip(&levels) {
            let audible = *level > loudest - 40.0;
            let (error, tolerance) = match column.as_str() {
                "spl_db" => (a - e, 0.01),
                "z_phase_deg" => (a - e, 0.1),
                "p_phase_deg" if audible => ((a - e + 180.0).rem_euclid(360.0) - 180.0, 0.1),
                "gd_ms" if audible => (a - e, 0.02 + 0.002 * e.abs()),
                "p_phase_deg" | "gd_ms" => continue,
                _ => (a / e - 1.0, 1e-3),
            };
            assert!(error.abs() <= tolerance, "{name}, {column}: got {a}, ngspice has {e}");
        }
    }
}

#[test]
fn every_netlist_agrees() {
    if !ngspice_is_there() {
        return;
    }
    let netlists = netlists();
    assert_eq!(netlists.len(), 21);
    let workers = std::thread::available_parallelism().map_or(2, usize::from);
    std::thread::scope(|scope| {
        for share in netlists.chunks(netlists.len().div_ceil(workers)) {
            scope.spawn(move || share.iter().for_each(|netlist| compare_case(netlist)));
        }
    });
}

/// Push-pull pairs: two drivers simulated one by one with a stiff chamber between them.
#[test]
fn push_pull_netlists_agree() {
    if !ngspice_is_there() {
        return;
    }
    for name in ["pp1", "pp2"] {
        compare_case(&data(&format!("push_pull/{name}.cir")));
    }
}

/// fs and Qms of the netlist's cone, from their definitions (Small 1972).
const RMS: f64 = 3.4;
const MMS: f64 = 0.125;
const CMS: f64 = 0.00025;
const SD: f64 = 0.033;
/// One coil of the netlist.
const RE: f64 = 3.3;
const LE: f64 = 0.0008;
const BL: f64 = 8.84;

/// A data sheet measured with Re, Bl and Le as a connection of the coils shows them.
fn sheet(measured: Connection, re: f64, bl: f64, le: f64) -> DataSheet {
    let omega = 1.0 / (MMS * CMS).sqrt();
    let exact = |value| Some(Printed::new(value, 0.0));
    DataSheet {
        coils: 2,
        measured,
        fs: exact(omega / TAU),
        re_per_coil: exact(RE),
        qes: exact(omega * MMS * re / (bl * bl)),
        qms: exact(omega * MMS / RMS),
        vas: exact(1.4 * 101_325.0 * SD * SD * CMS),
        sd: exact(SD),
        le: exact(le),
        bl: exact(bl),
        ..DataSheet::default()
    }
}

fn compare_coils(name: &str, driver: Driver, wiring: Wiring, columns: [&str; 3], curves: &Curves) {
    let frequencies = curves.column("frequency");
    let network = Enclosure::InfiniteBaffle.network(Load { driver, wiring }, Air::standard()).unwrap();
    let ours: Response = respond(&network, Voltage::from_volts(1.0), &frequencies).unwrap();
    let [re, im, speed] = columns.map(|column| curves.column(column));
    for i in 0..frequencies.len() {
        let z = ours.impedance_ohm[i];
        let limit = 1e-4 * re[i].hypot(im[i]);
        assert_near(name, z.re, re[i], limit);
        assert_near(name, z.im, im[i], limit);
        let velocity = ours.excursion_peak_m[i] / 2f64.sqrt() * TAU * frequencies[i];
        assert_near(name, velocity, speed[i], 1e-4 * speed[i]);
    }
}

/// The rules for coils on one former, against coupled inductors (`data/acoustics/coils`).
#[test]
fn coils_on_one_former_follow_the_coupled_netlist() {
    if !ngspice_is_there() {
        return;
    }
    let curves = simulate(&data("coils/two_coils.cir"));
    assert!(curves.rows.len() > 60);
    // A sheet of any of the three connections leads to one driver, which answers in series and in parallel.
    for (name, sheet) in [
        ("one coil", sheet(Connection::OneCoil, RE, BL, LE)),
        ("series", sheet(Connection::Series, 2.0 * RE, 2.0 * BL, 4.0 * LE)),
        ("parallel", sheet(Connection::Parallel, 0.5 * RE, BL, LE)),
    ] {
        let resolved = resolve(&sheet).unwrap();
        assert_eq!(resolved.contradictions, [], "{name}");
        let in_series = Wiring::of_coils(1, 2, 2).unwrap();
        compare_coils(name, resolved.driver, in_series, ["zs_re", "zs_im", "us"], &curves);
        let in_parallel = Wiring::of_coils(1, 2, 1).unwrap();
        compare_coils(name, resolved.driver, in_parallel, ["zp_re", "zp_im", "up"], &curves);
    }
    // One coil alone is a driver with that coil's values.
    let alone = Driver {
        re: Resistance::from_ohms(RE),
        coil: CoilImpedance::L { le: Inductance::from_henries(LE) },
        bl: ForceFactor::from_tesla_metres(BL),
        mms: Mass::from_kilograms(MMS),
        cms: Compliance::from_metres_per_newton(CMS),
        rms_ns_m: RMS,
        sd: Area::from_square_metres(SD),
    };
    compare_coils("alone", alone, Wiring::SINGLE, ["zo_re", "zo_im", "uo"], &curves);
    // Its Qes is twice that of both, read off the simulated impedance peaks: Qes = Qms·Re/(Zmax − Re).
    let braking = |column: &str, re: f64| {
        let peak = curves.column(column).into_iter().fold(0.0, f64::max);
        re / (peak - re)
    };
    let ratio = braking("zo_re", RE) / braking("zp_re", 0.5 * RE);
    assert_near("Qes of one coil over Qes of both", ratio, 2.0, 1e-3);
}
