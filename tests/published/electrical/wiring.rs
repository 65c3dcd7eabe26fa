//! The wiring tree: counts by hand and by brute force, figures against a nodal solution.
use std::collections::BTreeSet;

use kerf_and_coil::model::electrical::wiring::{
    Coil, CoilId, CoilSet, Join, NotationError, Polarity, Terminal, Tree, balanced,
};
use kerf_and_coil::units::Resistance;
use proptest::prelude::*;

use super::network::Network;
use crate::assert_near;

pub fn coil(nominal: f64, dc: f64, tolerance_percent: f64) -> Coil {
    Coil {
        nominal: Resistance::from_ohms(nominal),
        dc: Resistance::from_ohms(dc),
        tolerance_percent,
    }
}

fn notations(drivers: u8, coils: u8) -> Vec<String> {
    balanced(drivers, coils)
        .unwrap()
        .iter()
        .map(|wiring| wiring.tree.to_string())
        .collect()
}

// By hand: two coils go side by side or one after the other; nothing else.
#[test]
fn two_coils_have_two_wirings() {
    assert_eq!(notations(1, 1), ["1A"]);
    assert_eq!(notations(1, 2), ["1A|1B", "1A-1B"]);
    assert_eq!(notations(2, 1), ["1A|2A", "1A-2A"]);
}

// By hand: each driver's pair in series or parallel, then the pairs in series or parallel.
#[test]
fn two_drivers_with_two_coils_have_four() {
    let listed = notations(2, 2);
    assert_eq!(
        listed,
        [
            "1A|1B|2A|2B",
            "(1A-1B)|(2A-2B)",
            "(1A|1B)-(2A|2B)",
            "1A-1B-2A-2B"
        ]
    );
    let loads: Vec<f64> = balanced(2, 2)
        .unwrap()
        .iter()
        .map(|wiring| wiring.load(Resistance::from_ohms(4.0)).ohms())
        .collect();
    assert_eq!(loads, [1.0, 4.0, 4.0, 16.0]);
}

// By hand: n alike members in levels that alternate, so one ordered factorisation of n (factors of two or more) for
// each choice of the outer level: 1 gives 1; 2, 3, 5, 7 give 2; 4 gives 4 (4, 2·2); 6 gives 6 (6, 2·3, 3·2);
// 8 gives 8 (8, 2·4, 4·2, 2·2·2).
#[test]
fn counts_follow_the_ordered_factorisations() {
    for (drivers, count) in [
        (1, 1),
        (2, 2),
        (3, 2),
        (4, 4),
        (5, 2),
        (6, 6),
        (7, 2),
        (8, 8),
    ] {
        for (coils, factor) in [(1, 1), (2, 2), (4, 4)] {
            assert_eq!(
                balanced(drivers, coils).unwrap().len(),
                count * factor,
                "{drivers} × {coils}"
            );
        }
    }
    assert!(balanced(0, 1).is_err() && balanced(9, 1).is_err() && balanced(1, 5).is_err());
}

#[test]
fn a_brute_force_over_all_trees_finds_the_same_wirings() {
    for (drivers, coils) in [
        (1, 2),
        (2, 1),
        (3, 1),
        (1, 3),
        (2, 2),
        (4, 1),
        (1, 4),
        (5, 1),
        (3, 2),
        (2, 3),
        (6, 1),
    ] {
        let mut ids = Vec::new();
        for driver in 0..drivers {
            ids.extend((0..coils).map(|coil| CoilId { driver, coil }));
        }
        let brute: BTreeSet<String> = all_trees(&ids)
            .iter()
            .filter(|tree| is_regular(tree) && (0..drivers).all(|d| is_together(tree, d, coils)))
            .map(|tree| lowest_name(tree, drivers, coils))
            .collect();
        let listed: BTreeSet<String> = balanced(drivers, coils)
            .unwrap()
            .iter()
            .map(|w| lowest_name(&w.tree, drivers, coils))
            .collect();
        assert_eq!(listed, brute, "{drivers} × {coils}");
        assert_eq!(
            listed.len(),
            balanced(drivers, coils).unwrap().len(),
            "no two alike, {drivers} × {coils}"
        );
    }
}

/// Every series/parallel tree over the coils, groups of a kind merged.
fn all_trees(ids: &[CoilId]) -> Vec<Tree> {
    if let [only] = ids {
        return vec![Tree::Coil(*only)];
    }
    [Join::Series, Join::Parallel]
        .into_iter()
        .flat_map(|join| groups(ids, join))
        .collect()
}

fn groups(ids: &[CoilId], join: Join) -> Vec<Tree> {
    let mut found = Vec::new();
    for parts in partitions(ids).into_iter().filter(|parts| parts.len() > 1) {
        let mut rows: Vec<Vec<Tree>> = vec![Vec::new()];
        for part in &parts {
            let choices = if part.len() == 1 {
                all_trees(part)
            } else {
                groups(part, join.other())
            };
            rows = rows
                .iter()
                .flat_map(|row| {
                    choices
                        .iter()
                        .map(move |choice| [row.clone(), vec![choice.clone()]].concat())
                })
                .collect();
        }
        found.extend(rows.into_iter().map(|members| Tree::group(join, members)));
    }
    found
}

fn partitions(ids: &[CoilId]) -> Vec<Vec<Vec<CoilId>>> {
    let Some((first, rest)) = ids.split_first() else {
        return vec![Vec::new()];
    };
    let mut found = Vec::new();
    for parts in partitions(rest) {
        for index in 0..parts.len() {
            let mut grown = parts.clone();
            grown[index].insert(0, *first);
            found.push(grown);
        }
        found.push([vec![vec![*first]], parts].concat());
    }
    found
}

fn shape(tree: &Tree) -> String {
    match tree.members() {
        None => "o".into(),
        Some((join, members)) => {
            let mut shapes: Vec<String> = members.iter().map(shape).collect();
            shapes.sort();
            format!("{join:?}({})", shapes.join(","))
        }
    }
}

fn is_regular(tree: &Tree) -> bool {
    tree.members().is_none_or(|(_, members)| {
        members
            .iter()
            .all(|m| shape(m) == shape(&members[0]) && is_regular(m))
    })
}

/// Whether the driver's coils are a whole node, or whole members of one node.
fn is_together(tree: &Tree, driver: u8, coils: u8) -> bool {
    let mine = |t: &Tree| t.coils().iter().all(|id| id.driver == driver);
    if mine(tree) {
        return true;
    }
    let Some((_, members)) = tree.members() else {
        return true;
    };
    let whole: usize = members
        .iter()
        .filter(|m| mine(m))
        .map(|m| m.coils().len())
        .sum();
    whole == usize::from(coils)
        || members.iter().any(|m| {
            m.coils().iter().filter(|id| id.driver == driver).count() == usize::from(coils)
                && is_together(m, driver, coils)
        })
}

fn permutations(count: u8) -> Vec<Vec<u8>> {
    if count == 0 {
        return vec![Vec::new()];
    }
    let mut found = Vec::new();
    for shorter in permutations(count - 1) {
        for at in 0..=shorter.len() {
            let mut longer = shorter.clone();
            longer.insert(at, count - 1);
            found.push(longer);
        }
    }
    found
}

/// The first in alphabetical order of all the names a wiring gets by renaming drivers and the coils of each driver.
fn lowest_name(tree: &Tree, drivers: u8, coils: u8) -> String {
    let mut renamings: Vec<Vec<Vec<u8>>> = vec![Vec::new()];
    for _ in 0..drivers {
        renamings = renamings
            .iter()
            .flat_map(|chosen| {
                permutations(coils)
                    .into_iter()
                    .map(move |p| [chosen.clone(), vec![p]].concat())
            })
            .collect();
    }
    let mut lowest: Option<String> = None;
    for order in permutations(drivers) {
        for coil_orders in &renamings {
            let renamed = rename(tree, &|id: CoilId| CoilId {
                driver: order[usize::from(id.driver)],
                coil: coil_orders[usize::from(id.driver)][usize::from(id.coil)],
            });
            let name = renamed.canonical().to_string();
            if lowest.as_ref().is_none_or(|so_far| name < *so_far) {
                lowest = Some(name);
            }
        }
    }
    lowest.unwrap()
}

fn rename(tree: &Tree, to: &dyn Fn(CoilId) -> CoilId) -> Tree {
    match tree {
        Tree::Coil(id) => Tree::Coil(to(*id)),
        Tree::Series(members) => Tree::Series(members.iter().map(|m| rename(m, to)).collect()),
        Tree::Parallel(members) => Tree::Parallel(members.iter().map(|m| rename(m, to)).collect()),
    }
}

#[test]
fn every_listed_wiring_shares_equally_and_has_the_load_of_its_counts() {
    for drivers in 1..=8 {
        for coils in [1, 2, 4] {
            let set = CoilSet::uniform(drivers, coils, coil(2.0, 1.8, 10.0)).unwrap();
            let list = balanced(drivers, coils).unwrap();
            assert!(list.windows(2).all(|pair| {
                pair[0].load(Resistance::from_ohms(1.0)) <= pair[1].load(Resistance::from_ohms(1.0))
            }));
            for wiring in list {
                assert_eq!(
                    wiring.series_count * wiring.parallel_count,
                    u32::from(drivers * coils)
                );
                assert!(wiring.tree.unused(&set).is_empty());
                let network = Network::from_connections(&wiring.tree.connections(), |_| 1.8);
                let ratio = f64::from(wiring.series_count) / f64::from(wiring.parallel_count);
                assert_near(network.resistance(), 1.8 * ratio, 1e-9);
                let figures = wiring.tree.figures(&set).unwrap();
                assert_near(figures.nominal.ohms(), 2.0 * ratio, 1e-9);
                assert_near(figures.dc_low.ohms(), 1.62 * ratio, 1e-9);
                assert!(figures.equal_shares);
            }
        }
    }
}

// By hand, three wires each: the two coils one after the other, and side by side.
#[test]
fn connections_name_every_wire() {
    use {Polarity::*, Terminal::*};
    let (a, b) = (CoilId { driver: 0, coil: 0 }, CoilId { driver: 0, coil: 1 });
    let wires = |text: &str| -> Vec<(Terminal, Terminal)> {
        text.parse::<Tree>()
            .unwrap()
            .connections()
            .steps
            .iter()
            .map(|s| (s.from, s.to))
            .collect()
    };
    let series = [
        (LinePlus, Coil(a, Plus)),
        (Coil(a, Minus), Coil(b, Plus)),
        (Coil(b, Minus), LineMinus),
    ];
    assert_eq!(wires("1A-1B"), series);
    let parallel = [
        (LinePlus, Coil(a, Plus)),
        (Coil(a, Plus), Coil(b, Plus)),
        (Coil(a, Minus), Coil(b, Minus)),
        (Coil(b, Minus), LineMinus),
    ];
    assert_eq!(wires("1A|1B"), parallel);
}

#[test]
fn notation_refuses_what_it_cannot_mean() {
    assert_eq!(
        "1A-1A".parse::<Tree>(),
        Err(NotationError::Twice {
            coil: CoilId { driver: 0, coil: 0 }
        })
    );
    assert_eq!(
        "9A".parse::<Tree>(),
        Err(NotationError::NoSuchCoil { at: 0 })
    );
    assert_eq!(
        "1E".parse::<Tree>(),
        Err(NotationError::NoSuchCoil { at: 0 })
    );
    assert_eq!(
        "(1A-1B".parse::<Tree>(),
        Err(NotationError::JoinExpected { at: 6 })
    );
    assert_eq!(
        "1A-".parse::<Tree>(),
        Err(NotationError::CoilExpected { at: 3 })
    );
    assert_eq!(
        "".parse::<Tree>(),
        Err(NotationError::CoilExpected { at: 0 })
    );
    assert_eq!(
        "(".repeat(300).parse::<Tree>(),
        Err(NotationError::TooDeep { at: 8 })
    );
    assert_eq!(
        "1A|".repeat(400).parse::<Tree>(),
        Err(NotationError::TooLong)
    );
    assert_eq!(
        "1a - 1b | 2a".parse::<Tree>().unwrap().to_string(),
        "(1A-1B)|2A"
    );
}

/// Any tree over one to eight drivers with up to four coils, coils in random order and random groups.
pub fn any_tree() -> impl Strategy<Value = Tree> {
    let ids: Vec<CoilId> = (0..8)
        .flat_map(|driver| (0..4).map(move |coil| CoilId { driver, coil }))
        .collect();
    (Just(ids).prop_shuffle(), 1usize..=10, any::<u64>()).prop_map(|(ids, count, seed)| {
        let join = if seed & 1 == 0 {
            Join::Series
        } else {
            Join::Parallel
        };
        grow(&ids[..count], join, seed >> 1)
    })
}

fn grow(ids: &[CoilId], join: Join, seed: u64) -> Tree {
    if let [only] = ids {
        return Tree::Coil(*only);
    }
    let cut = 1 + (seed as usize) % (ids.len() - 1);
    let (head, tail) = ids.split_at(cut);
    let next = seed.wrapping_mul(0x9E37_79B9_7F4A_7C15).rotate_left(17);
    Tree::group(
        join,
        vec![
            grow(head, join.other(), next),
            grow(tail, join.other(), next ^ seed),
        ],
    )
}

proptest! {
    #[test]
    fn figures_equal_a_nodal_solution(tree in any_tree(), ohms in prop::collection::vec(0.3f64..16.0, 32)) {
        let ohm = |id: CoilId| ohms[usize::from(id.driver * 4 + id.coil)];
        let drivers = (0..8).map(|driver| (0..4).map(|c| {
            let dc = ohm(CoilId { driver, coil: c });
            coil(dc * 1.2, dc, 5.0)
        }).collect()).collect();
        let set = CoilSet::new(drivers).unwrap();
        let figures = tree.figures(&set).unwrap();
        let network = Network::from_connections(&tree.connections(), ohm);
        let volts = network.voltages().unwrap();
        let whole = network.resistance();
        assert_near(figures.dc.ohms(), whole, 1e-9 * whole);
        assert_near(figures.nominal.ohms(), 1.2 * whole, 1e-9 * whole);
        assert_near(figures.dc_high.ohms(), 1.05 * whole, 1e-9 * whole);
        assert_near(figures.shares.iter().map(|s| s.power).sum(), 1.0, 1e-9);
        for share in &figures.shares {
            let (a, b) = network.node_of(share.coil);
            let across = volts[a] - volts[b];
            assert_near(share.voltage, across / whole, 1e-9);
            assert_near(share.current, across / ohm(share.coil), 1e-9);
            assert_near(share.power, across * across / ohm(share.coil) / whole, 1e-9);
        }
    }

    #[test]
    fn balance_says_equal_shares(tree in any_tree()) {
        let set = CoilSet::uniform(8, 4, coil(4.0, 3.6, 0.0)).unwrap();
        let figures = tree.figures(&set).unwrap();
        prop_assert_eq!(tree.balance().is_some(), figures.equal_shares, "{}", tree);
        if let Some((s, p)) = tree.balance() {
            prop_assert_eq!((s * p) as usize, tree.coils().len());
            assert_near(figures.nominal.ohms(), 4.0 * f64::from(s) / f64::from(p), 1e-9);
        }
    }

    #[test]
    fn notation_round_trips(tree in any_tree()) {
        let canonical = tree.canonical();
        prop_assert_eq!(canonical.to_string().parse::<Tree>().unwrap(), canonical.clone());
        prop_assert_eq!(canonical.canonical(), canonical.clone());
        prop_assert_eq!(tree.to_string().parse::<Tree>().unwrap().canonical(), canonical);
    }

    #[test]
    fn any_text_gives_a_wiring_or_an_error(text in "[-|() 0-9A-Fa-fé]{0,60}") {
        if let Ok(tree) = text.parse::<Tree>() {
            prop_assert!(tree.validate(&CoilSet::uniform(8, 4, coil(4.0, 3.6, 0.0)).unwrap()).is_ok());
        }
    }
}
