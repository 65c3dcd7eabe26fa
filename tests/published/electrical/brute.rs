//! Counts of wirings against a brute force over every series/parallel tree.
use std::collections::BTreeSet;

use kerf_and_coil::model::electrical::wiring::{CoilId, Join, Tree, balanced};

#[test]
fn a_brute_force_over_all_trees_finds_the_same_wirings() {
    for (drivers, coils) in
        [(1, 2), (2, 1), (3, 1), (1, 3), (2, 2), (4, 1), (1, 4), (5, 1), (3, 2), (2, 3), (6, 1)]
    {
        let mut ids = Vec::new();
        for driver in 0..drivers {
            ids.extend((0..coils).map(|coil| CoilId { driver, coil }));
        }
        let brute: BTreeSet<String> = all_trees(&ids)
            .iter()
            .filter(|tree| is_regular(tree) && (0..drivers).all(|d| is_together(tree, d, coils)))
            .map(|tree| lowest_name(tree, drivers, coils))
            .collect();
        let listed: BTreeSet<String> =
            balanced(drivers, coils).unwrap().iter().map(|w| lowest_name(&w.tree, drivers, coils)).collect();
        assert_eq!(listed, brute, "{drivers} × {coils}");
        assert_eq!(
            listed.len(),
            balanced(drivers, coils).unwrap().len(),
            "no two alike, {drivers} × {coils}"
        );
    }
}

// Seven and eight coils are too many for trees with named coils. Their shapes are few: the series/parallel networks of n
// equal resistors, 1, 2, 4, 10, 24, 66, 180, 522 (MacMahon 1892; OEIS A000084, from memory).
#[test]
fn a_brute_force_over_all_shapes_finds_as_many() {
    for (count, networks) in (1_u8..=8).zip([1, 2, 4, 10, 24, 66, 180, 522]) {
        let series = shapes(usize::from(count), 'S');
        let all: BTreeSet<String> = series.into_iter().chain(shapes(usize::from(count), 'P')).collect();
        assert_eq!(all.len(), networks, "{count} coils");
        let regular: BTreeSet<&String> = all.iter().filter(|shape| is_regular_shape(shape)).collect();
        let listed: BTreeSet<String> =
            balanced(count, 1).unwrap().iter().map(|wiring| short_shape(&wiring.tree)).collect();
        assert_eq!(listed.iter().collect::<BTreeSet<_>>(), regular, "{count} coils");
        assert_eq!(listed.len(), balanced(count, 1).unwrap().len(), "no two alike, {count} coils");
    }
}

/// Shapes of `count` coils whose outermost group is of the kind, as sorted text: `S(oP(oo))`.
fn shapes(count: usize, kind: char) -> Vec<String> {
    if count == 1 {
        return vec!["o".into()];
    }
    let other = if kind == 'S' { 'P' } else { 'S' };
    let mut found = BTreeSet::new();
    for sizes in partitions_of(count, count - 1) {
        let mut rows: Vec<Vec<String>> = vec![Vec::new()];
        for size in sizes {
            let choices = shapes(size, other);
            rows = rows
                .iter()
                .flat_map(|row| choices.iter().map(move |one| [row.clone(), vec![one.clone()]].concat()))
                .collect();
        }
        for mut members in rows {
            members.sort();
            found.insert(format!("{kind}({})", members.concat()));
        }
    }
    found.into_iter().collect()
}

/// Ways to write `count` as a sum of falling parts of at most `most`.
fn partitions_of(count: usize, most: usize) -> Vec<Vec<usize>> {
    if count == 0 {
        return vec![Vec::new()];
    }
    (1..=most.min(count))
        .flat_map(|first| {
            partitions_of(count - first, first).into_iter().map(move |rest| [vec![first], rest].concat())
        })
        .collect()
}

fn short_shape(tree: &Tree) -> String {
    match tree.members() {
        None => "o".into(),
        Some((join, members)) => {
            let mut shapes: Vec<String> = members.iter().map(short_shape).collect();
            shapes.sort();
            format!("{}({})", if join == Join::Series { 'S' } else { 'P' }, shapes.concat())
        }
    }
}

/// Whether every group's members are alike, read off the text itself.
fn is_regular_shape(shape: &str) -> bool {
    let Some(inside) = shape.get(2..shape.len().saturating_sub(1)).filter(|_| shape.len() > 1) else {
        return true;
    };
    let (mut members, mut depth, mut start) = (Vec::new(), 0_i32, 0);
    for (at, letter) in inside.char_indices() {
        depth += i32::from(letter == '(') - i32::from(letter == ')');
        if depth == 0 && (letter == ')' || letter == 'o') {
            members.push(&inside[start..=at]);
            start = at + 1;
        }
    }
    members.iter().all(|member| *member == members[0] && is_regular_shape(member))
}

/// Every series/parallel tree over the coils, groups of a kind merged.
fn all_trees(ids: &[CoilId]) -> Vec<Tree> {
    if let [only] = ids {
        return vec![Tree::Coil(*only)];
    }
    [Join::Series, Join::Parallel].into_iter().flat_map(|join| groups(ids, join)).collect()
}

fn groups(ids: &[CoilId], join: Join) -> Vec<Tree> {
    let mut found = Vec::new();
    for parts in partitions(ids).into_iter().filter(|parts| parts.len() > 1) {
        let mut rows: Vec<Vec<Tree>> = vec![Vec::new()];
        for part in &parts {
            let choices = if part.len() == 1 { all_trees(part) } else { groups(part, join.other()) };
            rows = rows
                .iter()
                .flat_map(|row| {
                    choices.iter().map(move |choice| [row.clone(), vec![choice.clone()]].concat())
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
    tree.members()
        .is_none_or(|(_, members)| members.iter().all(|m| shape(m) == shape(&members[0]) && is_regular(m)))
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
    let whole: usize = members.iter().filter(|m| mine(m)).map(|m| m.coils().len()).sum();
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
                permutations(coils).into_iter().map(move |p| [chosen.clone(), vec![p]].concat())
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
