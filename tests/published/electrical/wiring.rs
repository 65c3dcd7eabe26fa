//! The wiring tree: counts by hand, figures against a nodal solution.
use kerf_and_coil::model::electrical::wiring::{
    Coil, CoilId, CoilSet, Join, NotationError, Polarity, Terminal, Tree, balanced,
};
use kerf_and_coil::units::Resistance;
use proptest::prelude::*;

use super::network::Network;
use crate::assert_near;

pub fn coil(nominal: f64, dc: f64, tolerance_percent: f64) -> Coil {
    Coil { nominal: Resistance::from_ohms(nominal), dc: Resistance::from_ohms(dc), tolerance_percent }
}

fn notations(drivers: u8, coils: u8) -> Vec<String> {
    balanced(drivers, coils).unwrap().iter().map(|wiring| wiring.tree.to_string()).collect()
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
    assert_eq!(listed, ["1A|1B|2A|2B", "(1A-1B)|(2A-2B)", "(1A|1B)-(2A|2B)", "1A-1B-2A-2B"]);
    let loads: Vec<f64> =
        balanced(2, 2).unwrap().iter().map(|wiring| wiring.load(Resistance::from_ohms(4.0)).ohms()).collect();
    assert_eq!(loads, [1.0, 4.0, 4.0, 16.0]);
}

// By hand: n alike members in levels that alternate, so one ordered factorisation of n (factors of two or more) for
// each choice of the outer level: 1 gives 1; 2, 3, 5, 7 give 2; 4 gives 4 (4, 2·2); 6 gives 6 (6, 2·3, 3·2);
// 8 gives 8 (8, 2·4, 4·2, 2·2·2).
#[test]
fn counts_follow_the_ordered_factorisations() {
    for (drivers, count) in [(1, 1), (2, 2), (3, 2), (4, 4), (5, 2), (6, 6), (7, 2), (8, 8)] {
        for (coils, factor) in [(1, 1), (2, 2), (4, 4)] {
            assert_eq!(balanced(drivers, coils).unwrap().len(), count * factor, "{drivers} × {coils}");
        }
    }
    assert!(balanced(0, 1).is_err() && balanced(9, 1).is_err() && balanced(1, 5).is_err());
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
                assert_eq!(wiring.series_count * wiring.parallel_count, u32::from(drivers * coils));
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
        text.parse::<Tree>().unwrap().connections().steps.iter().map(|s| (s.from, s.to)).collect()
    };
    let series = [(LinePlus, Coil(a, Plus)), (Coil(a, Minus), Coil(b, Plus)), (Coil(b, Minus), LineMinus)];
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
    assert_eq!("1A-1A".parse::<Tree>(), Err(NotationError::Twice { coil: CoilId { driver: 0, coil: 0 } }));
    assert_eq!("9A".parse::<Tree>(), Err(NotationError::NoSuchCoil { at: 0 }));
    assert_eq!("1E".parse::<Tree>(), Err(NotationError::NoSuchCoil { at: 0 }));
    assert_eq!("(1A-1B".parse::<Tree>(), Err(NotationError::JoinExpected { at: 6 }));
    assert_eq!("1A-".parse::<Tree>(), Err(NotationError::CoilExpected { at: 3 }));
    assert_eq!("".parse::<Tree>(), Err(NotationError::CoilExpected { at: 0 }));
    assert_eq!("(".repeat(300).parse::<Tree>(), Err(NotationError::TooDeep { at: 8 }));
    assert_eq!("1A|".repeat(400).parse::<Tree>(), Err(NotationError::TooLong));
    assert_eq!("1a - 1b | 2a".parse::<Tree>().unwrap().to_string(), "(1A-1B)|2A");
}

/// Any tree over one to eight drivers with up to four coils, coils in random order and random groups.
pub fn any_tree() -> impl Strategy<Value = Tree> {
    let ids: Vec<CoilId> =
        (0..8).flat_map(|driver| (0..4).map(move |coil| CoilId { driver, coil })).collect();
    (Just(ids).prop_shuffle(), 1usize..=10, any::<u64>()).prop_map(|(ids, count, seed)| {
        let join = if seed & 1 == 0 { Join::Series } else { Join::Parallel };
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
    Tree::group(join, vec![grow(head, join.other(), next), grow(tail, join.other(), next ^ seed)])
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
