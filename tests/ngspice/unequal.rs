//! Wirings whose coils don't share equally: each driver, each coil simulated one by one, in a netlist written here from
//! the definitions in `tests/published/data/acoustics/circuits.md`.
use super::{Curves, ngspice_is_there, simulate};
use kerf_and_coil::model::acoustics::network::Network;
use kerf_and_coil::model::acoustics::{
    Air, CoilImpedance, Drive, Driver, Enclosure, End, Load, Losses, Opening, Port, SealedChamber,
    VentedChamber, driver_parts, hardest_coil, respond, stand_in,
};
use kerf_and_coil::model::electrical::wiring::Tree;
use kerf_and_coil::units::{
    Area, Compliance, ForceFactor, Inductance, Length, Mass, Resistance, Voltage, Volume,
};
use std::f64::consts::PI;
use std::fmt::Write;
use std::path::Path;

/// Density and stiffness of air at 20 °C and 101 325 Pa, circuits.md §1.
const RHO: f64 = 101_325.0 / (287.058 * 293.15);
const BULK: f64 = 1.4 * 101_325.0;
/// An invented driver, all its coils in series.
const RE: f64 = 3.6;
const LE: f64 = 0.0019;
const BL: f64 = 14.2;
const MMS: f64 = 0.148;
const CMS: f64 = 0.00021;
const RMS: f64 = 4.1;
const SD: f64 = 0.0483;
/// The source: voltage, and resistance of cable and amplifier.
const VOLTS: f64 = 20.0;
const SOURCE: f64 = 0.13;
/// Leakage of every chamber.
const QL: f64 = 9.0;
/// The port: diameter and length.
const PORT: f64 = 0.104;
const PIPE: f64 = 0.21;

#[derive(Clone, Copy, PartialEq)]
enum Around {
    Vented,
    Bandpass,
    PushPull,
}

struct Case {
    name: &'static str,
    tree: &'static str,
    drivers: usize,
    coils: usize,
    around: Around,
}

const CASES: [Case; 4] = [
    Case { name: "one_before_two", tree: "1A-(2A|3A)", drivers: 3, coils: 1, around: Around::Vented },
    Case { name: "coil_before_three", tree: "1A-(1B|2A|2B)", drivers: 2, coils: 2, around: Around::Bandpass },
    Case { name: "pairs_uneven", tree: "1A-(2A|3A|4A)", drivers: 4, coils: 1, around: Around::PushPull },
    // More free currents than a small system holds.
    Case {
        name: "all_but_one_side_by_side",
        tree: "1A-(1B|2A|2B|3A|3B|4A|4B|5A|5B|6A|6B)",
        drivers: 6,
        coils: 2,
        around: Around::Vented,
    },
];

/// Volumes behind and before the cones, m³.
const BEHIND: f64 = 0.11;
const BEFORE: f64 = 0.06;

fn port_mass() -> f64 {
    let radius = 0.5 * PORT;
    RHO * (PIPE + (0.8217 + 0.6133) * radius) / (PI * radius * radius)
}

/// A chamber between a node and the outside: compliance and leak; a port makes its own tuning the reference.
fn chamber(text: &mut String, node: &str, volume: f64, omega: f64) {
    let compliance = volume / BULK;
    let _ = writeln!(text, "C_{node} {node} 0 {compliance:.14e}");
    let _ = writeln!(text, "Rl_{node} {node} out {:.14e}", QL / (omega * compliance));
    let _ = writeln!(text, "Rdc_{node} {node} 0 1e15");
}

fn vented(text: &mut String, node: &str, volume: f64) {
    let mass = port_mass();
    chamber(text, node, volume, 1.0 / (mass * volume / BULK).sqrt());
    let _ = writeln!(text, "Lp_{node} {node} out {mass:.14e}");
}

fn sealed(text: &mut String, node: &str, volume: f64, load_volume: f64, omega_s: f64) {
    chamber(text, node, volume, omega_s * (1.0 + load_volume / volume).sqrt());
}

/// One driver with its coils, between two nodes of air.
fn driver(text: &mut String, d: usize, coils: usize, front: &str, back: &str) {
    let bl = BL / coils as f64;
    let mut at = String::from("0");
    for k in 0..coils {
        let _ = writeln!(text, "R{d}_{k} a{d}_{k} b{d}_{k} {}", RE / coils as f64);
        // Coils on one former share their flux: every current passes the one inductance.
        let _ = writeln!(text, "E{d}_{k} b{d}_{k} c{d}_{k} f{d} 0 1");
        let _ = writeln!(text, "H{d}_{k} c{d}_{k} d{d}_{k} Vu{d} {bl}");
        let _ = writeln!(text, "V{d}_{k} d{d}_{k} e{d}_{k} 0");
        let _ = writeln!(text, "F{d}_{k} 0 f{d} V{d}_{k} 1");
        let _ = writeln!(text, "Hm{d}_{k} m{d}_{k} {at} V{d}_{k} {bl}");
        at = format!("m{d}_{k}");
    }
    let _ = writeln!(text, "L{d} f{d} 0 {}", LE / (coils * coils) as f64);
    let _ = writeln!(text, "Rm{d} {at} x{d} {RMS}\nLm{d} x{d} y{d} {MMS}\nCm{d} y{d} z{d} {CMS}");
    let _ = writeln!(
        text,
        "Er{d} z{d} w{d} {front} {back} {SD}\nVu{d} w{d} 0 0\nFq{d} {back} {front} Vu{d} {SD}"
    );
    let _ = writeln!(text, "Rmdc{d} x{d} 0 1e12");
}

/// Joins the coils' ends between two nodes.
fn join(text: &mut String, tree: &Tree, from: &str, to: &str, free: &mut usize) {
    match tree {
        Tree::Coil(id) => {
            let (d, k) = (id.driver, id.coil);
            let _ = writeln!(text, "Va{d}_{k} {from} a{d}_{k} 0\nVe{d}_{k} e{d}_{k} {to} 0");
        }
        Tree::Parallel(members) => members.iter().for_each(|one| join(text, one, from, to, free)),
        Tree::Series(members) => {
            let mut at = from.to_owned();
            for (number, one) in members.iter().enumerate() {
                *free += 1;
                let next = if number + 1 == members.len() { to.to_owned() } else { format!("j{free}") };
                join(text, one, &at, &next, free);
                at = next;
            }
        }
    }
}

fn frequencies() -> Vec<f64> {
    (0..40).map(|i| 10.0 * 50f64.powf(f64::from(i) / 39.0)).collect()
}

fn netlist(case: &Case) -> String {
    let mut text =
        format!("* {}\nVg eg 0 dc 0 ac {VOLTS}\nRg eg et {SOURCE}\nVit et et2 0\nVtot out 0 0\n", case.name);
    let tree: Tree = case.tree.parse().unwrap();
    join(&mut text, &tree, "et2", "0", &mut 0);
    let omega_s = 1.0 / (MMS * CMS).sqrt();
    let vas = BULK * SD * SD * CMS;
    for d in 0..case.drivers {
        let pair = d / 2;
        let (front, back) = match case.around {
            Around::Vented => ("out".to_owned(), "rear".to_owned()),
            Around::Bandpass => ("front".to_owned(), "rear".to_owned()),
            Around::PushPull if d % 2 == 0 => ("out".to_owned(), format!("mid{pair}")),
            Around::PushPull => (format!("mid{pair}"), "rear".to_owned()),
        };
        driver(&mut text, d, case.coils, &front, &back);
    }
    match case.around {
        Around::Vented => vented(&mut text, "rear", BEHIND),
        Around::Bandpass => {
            sealed(&mut text, "rear", BEHIND, case.drivers as f64 * vas, omega_s);
            vented(&mut text, "front", BEFORE);
        }
        Around::PushPull => {
            // A pair is half as compliant as one driver.
            sealed(&mut text, "rear", BEHIND, case.drivers as f64 / 2.0 * vas / 2.0, omega_s);
            for pair in 0..case.drivers / 2 {
                let _ = writeln!(text, "Cmid{pair} mid{pair} 0 7e-14\nRmid{pair} mid{pair} 0 1e15");
            }
        }
    }
    control(&mut text, case);
    text
}

fn control(text: &mut String, case: &Case) {
    let frequencies = frequencies();
    text.push_str(".control\nset numdgt=12\nset units=radians\nset wr_singlescale\nset wr_vecnames\n");
    for f in &frequencies {
        let _ = writeln!(text, "ac lin 3 {:.12} {:.12}", f * 0.9998, f * 1.0002);
    }
    let mut columns =
        vec!["spl", "phase", "z_re", "z_im", "gd"].into_iter().map(str::to_owned).collect::<Vec<_>>();
    for d in 0..case.drivers {
        columns.push(format!("x{d}"));
        columns.push(format!("p{d}"));
        columns.extend((0..case.coils).map(|k| format!("c{d}_{k}")));
    }
    let count = frequencies.len();
    let _ = writeln!(text, "setplot const\nlet k = 0\nlet f_hz = vector({count})");
    columns.iter().for_each(|column| _ = writeln!(text, "let {column} = vector({count})"));
    let _ = writeln!(text, "while k < {count}\n  let j = k + 1\n  setplot ac$&j");
    let _ = writeln!(
        text,
        "  let w0 = 2*pi*real(frequency[1])\n  let pp = sqrt(-1)*{RHO:.14}*real(frequency)*i(vtot)"
    );
    let _ = writeln!(text, "  let pc = cph(pp)\n  let zz = v(et2)/i(vit)");
    let mut set = |column: &str, value: &str| _ = writeln!(text, "  let const.{column}[const.k] = {value}");
    set("f_hz", "real(frequency[1])");
    set("spl", "db(pp[1]/2e-5)");
    set("phase", "ph(pp[1])*180/pi");
    set("z_re", "real(zz[1])");
    set("z_im", "imag(zz[1])");
    set("gd", "-(pc[2]-pc[0])/(2*pi*real(frequency[2]-frequency[0]))");
    for d in 0..case.drivers {
        set(&format!("x{d}"), &format!("sqrt(2)*mag(i(vu{d})[1])/w0"));
        for k in 0..case.coils {
            set(&format!("c{d}_{k}"), &format!("mag(i(v{d}_{k})[1])"));
        }
        let power = (0..case.coils).map(|k| {
            let (v, i) = (format!("(v(a{d}_{k})[1]-v(e{d}_{k})[1])"), format!("i(v{d}_{k})[1]"));
            format!("real({v})*real({i})+imag({v})*imag({i})")
        });
        set(&format!("p{d}"), &power.collect::<Vec<_>>().join("+"));
    }
    let _ = writeln!(text, "  setplot const\n  let k = k + 1\nend\nsetscale f_hz");
    let _ = writeln!(text, "wrdata {}.out {}\nquit\n.endc\n.end", case.name, columns.join(" "));
}

fn network(case: &Case) -> Network {
    let tree: Tree = case.tree.parse().unwrap();
    let driver = Driver {
        re: Resistance::from_ohms(RE),
        coil: CoilImpedance::L { le: Inductance::from_henries(LE) },
        bl: ForceFactor::from_tesla_metres(BL),
        mms: Mass::from_kilograms(MMS),
        cms: Compliance::from_metres_per_newton(CMS),
        rms_ns_m: RMS,
        sd: Area::from_square_metres(SD),
    };
    let load = Load { driver, wiring: stand_in(&tree, case.drivers, case.coils).unwrap() };
    let losses = Losses { ql: Some(QL), qa: None };
    let port = Port {
        opening: Opening::Round { diameter: Length::from_metres(PORT) },
        count: 1,
        length: Length::from_metres(PIPE),
        inner: End::Free,
        outer: End::Flanged,
        qp: None,
    };
    let closed = |volume| SealedChamber { volume: Volume::from_cubic_metres(volume), losses };
    let open = |volume| VentedChamber { volume: Volume::from_cubic_metres(volume), losses, port };
    let enclosure = match case.around {
        Around::Vented => Enclosure::Vented { rear: open(BEHIND) },
        Around::Bandpass => Enclosure::Bandpass4 { rear: closed(BEHIND), front: open(BEFORE) },
        Around::PushPull => Enclosure::PushPull { rear: closed(BEHIND) },
    };
    let network = enclosure.network(load, Air::standard()).unwrap();
    Network { unequal: Some(tree), ..network }
}

#[track_caller]
fn near(what: &str, hertz: f64, ours: f64, theirs: f64, tolerance: f64) {
    assert!((ours - theirs).abs() <= tolerance, "{what} at {hertz} Hz: got {ours}, ngspice has {theirs}");
}

fn compare(case: &Case, theirs: &Curves) {
    let frequencies = frequencies();
    let drive = Drive {
        voltage: Voltage::from_volts(VOLTS),
        source_resistance: Resistance::from_ohms(SOURCE),
        distance: Length::from_metres(1.0),
    };
    let network = network(case);
    let ours = respond(&network, drive, &frequencies).unwrap();
    let parts = driver_parts(&network, &drive, &frequencies).unwrap();
    assert_eq!((parts.len(), theirs.rows.len()), (case.drivers, frequencies.len()), "{}", case.name);
    let column = |name: &str| theirs.column(name);
    let [spl, phase, re, im, gd] = ["spl", "phase", "z_re", "z_im", "gd"].map(column);
    let columns =
        |letter: &str| (0..case.drivers).map(|d| column(&format!("{letter}{d}"))).collect::<Vec<_>>();
    let (travel, power) = (columns("x"), columns("p"));
    let coils: Vec<Vec<f64>> = (0..case.drivers)
        .flat_map(|d| (0..case.coils).map(move |k| format!("c{d}_{k}")))
        .map(|c| column(&c))
        .collect();
    let hardest = hardest_coil(&network, &drive, &frequencies).unwrap();
    let mut apart: f64 = 1.0;
    for (i, f) in frequencies.iter().enumerate() {
        let told = |what: &str| format!("{}, {what}", case.name);
        near(&told("level"), *f, ours.spl_db[i], spl[i], 0.01);
        let turned = (ours.phase_deg[i] - phase[i] + 180.0).rem_euclid(360.0) - 180.0;
        near(&told("phase"), *f, turned, 0.0, 0.1);
        near(&told("group delay"), *f, ours.group_delay_s[i], gd[i], 2e-5 + 0.002 * gd[i].abs());
        let (z, size) = (ours.impedance_ohm[i], re[i].hypot(im[i]));
        near(&told("resistance"), *f, z.re, re[i], 1e-3 * size);
        near(&told("reactance"), *f, z.im, im[i], 1e-3 * size);
        let whole: f64 = power.iter().map(|p| p[i].abs()).sum();
        let furthest = travel.iter().map(|x| x[i]).fold(0.0, f64::max);
        let least = travel.iter().map(|x| x[i]).fold(f64::INFINITY, f64::min);
        apart = apart.max(furthest / least);
        let most = coils.iter().map(|coil| coil[i]).fold(0.0, f64::max);
        near(&told("largest coil current"), *f, hardest[i], most, 1e-3 * most);
        near(&told("worst travel"), *f, ours.excursion_peak_m[i], furthest, 1e-3 * furthest);
        for (d, part) in parts.iter().enumerate() {
            near(&told("travel"), *f, part.excursion_peak_m[i], travel[d][i], 1e-3 * furthest);
            near(&told("power"), *f, part.power_w[i], power[d][i], 1e-3 * whole);
        }
    }
    assert!(apart > 1.2, "{}: the cones move nearly alike, {apart}", case.name);
}

#[test]
fn unequal_wirings_agree_with_drivers_simulated_one_by_one() {
    if !ngspice_is_there() {
        return;
    }
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("netlists");
    std::fs::create_dir_all(&folder).unwrap();
    for case in &CASES {
        let path = folder.join(case.name).with_extension("cir");
        std::fs::write(&path, netlist(case)).unwrap();
        compare(case, &simulate(&path));
    }
}

/// An equal wiring solved as if it were unequal is the network's own solution.
#[test]
fn equal_shares_are_a_special_case() {
    let tree: Tree = "(1A-1B)|(2A-2B)".parse().unwrap();
    let mut network = network(&CASES[1]);
    network.load.wiring = kerf_and_coil::model::acoustics::Wiring::of_coils(2, 2, 2).unwrap();
    let frequencies = frequencies();
    let drive =
        Drive { source_resistance: Resistance::from_ohms(SOURCE), ..Voltage::from_volts(VOLTS).into() };
    let general = respond(&Network { unequal: Some(tree), ..network.clone() }, drive, &frequencies).unwrap();
    let plain = respond(&Network { unequal: None, ..network }, drive, &frequencies).unwrap();
    for (i, f) in frequencies.iter().enumerate() {
        near("level", *f, general.spl_db[i], plain.spl_db[i], 1e-9);
        near("phase", *f, general.phase_deg[i], plain.phase_deg[i], 1e-7);
        near("delay", *f, general.group_delay_s[i], plain.group_delay_s[i], 1e-8);
        near("travel", *f, general.excursion_peak_m[i], plain.excursion_peak_m[i], 1e-12);
        near("impedance", *f, (general.impedance_ohm[i] - plain.impedance_ohm[i]).norm(), 0.0, 1e-9);
        near("flow", *f, (general.ducts[0].flow_m3_s[i] - plain.ducts[0].flow_m3_s[i]).norm(), 0.0, 1e-12);
    }
}
