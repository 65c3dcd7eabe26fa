//! The wirings as netlists, solved by ngspice (Debian package `ngspice`).
use std::fmt::Write as _;
use std::process::Command;

use kerf_and_coil::model::electrical::wiring::{CoilSet, balanced};

use super::network::Network;
use super::wiring::coil;
use crate::assert_near;

#[test]
fn ngspice_reads_the_same_dc_resistance() {
    let mut netlist = String::from("coil wirings, 1 A through each\n");
    let mut expected = Vec::new();
    for (drivers, coils) in [(1, 2), (1, 4), (2, 2), (3, 2), (4, 2), (6, 1), (8, 4)] {
        let set = CoilSet::uniform(drivers, coils, coil(4.0, 3.37, 0.0)).unwrap();
        for wiring in balanced(drivers, coils).unwrap() {
            let name = expected.len();
            let network = Network::from_connections(&wiring.tree.connections(), |_| 3.37);
            let node = |n: usize| {
                if n == network.minus { "0".to_string() } else { format!("w{name}n{n}") }
            };
            for (id, a, b, ohm) in &network.resistors {
                writeln!(netlist, "R{name}x{}x{} {} {} {ohm}", id.driver, id.coil, node(*a), node(*b))
                    .unwrap();
            }
            writeln!(netlist, "I{name} 0 {} DC 1", node(network.plus)).unwrap();
            expected.push((node(network.plus), wiring.tree.figures(&set).unwrap().dc.ohms()));
        }
    }
    netlist.push_str(".options numdgt=10\n.control\nop\n");
    for (node, _) in &expected {
        writeln!(netlist, "print v({node})").unwrap();
    }
    netlist.push_str("quit\n.endc\n.end\n");
    let path = std::env::temp_dir().join(format!("coil-wirings-{}.cir", std::process::id()));
    std::fs::write(&path, netlist).unwrap();
    let output = Command::new("ngspice").arg("-b").arg(&path).output();
    std::fs::remove_file(&path).unwrap();
    let output = output.expect("this check runs ngspice: install the Debian package of that name");
    let text = String::from_utf8_lossy(&output.stdout).to_lowercase();
    assert_eq!(expected.len(), 2 + 4 + 4 + 4 + 8 + 6 + 32);
    for (node, ohm) in &expected {
        let line = text
            .lines()
            .find(|line| line.trim_start().starts_with(&format!("v({node}) =")))
            .unwrap_or_else(|| panic!("no v({node}) in {text}\n{}", String::from_utf8_lossy(&output.stderr)));
        let volts: f64 = line.split('=').nth(1).unwrap().trim().parse().unwrap();
        // ngspice prints seven digits or more and leaks 1e-12 S at every node.
        assert_near(volts, *ohm, 1e-5 * ohm);
    }
}
