//! Counts of wirings against a brute force over every series/parallel tree.
use std::collections::{BTreeMap, BTreeSet};

use kerf_and_coil::model::electrical::wiring::{
    CoilId, Join, MOST_APART, Tree, apart, balanced, has_apart, has_irregular, irregular, lists_every_apart,
    ways_in_all,
};

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
        let series = shapes(usize::from(count), 'S', &["o"]);
        let parallel = shapes(usize::from(count), 'P', &["o"]);
        let all: BTreeSet<String> = series.into_iter().chain(parallel).collect();
        assert_eq!(all.len(), networks, "{count} coils");
        let regular: BTreeSet<&String> = all.iter().filter(|shape| is_regular_shape(shape)).collect();
        let listed: BTreeSet<String> =
            balanced(count, 1).unwrap().iter().map(|wiring| short_shape(&wiring.tree)).collect();
        assert_eq!(listed.iter().collect::<BTreeSet<_>>(), regular, "{count} coils");
        assert_eq!(listed.len(), balanced(count, 1).unwrap().len(), "no two alike, {count} coils");
    }
}

/// The ways to join the coils of one driver: a letter, its shape, the resistance of it with coils of 1 Ω. By hand.
const DRIVERS: [(u8, &str, &str, f64); 9] = [
    (1, "o", "o", 1.0),
    (2, "s", "S(oo)", 2.0),
    (2, "p", "P(oo)", 0.5),
    (3, "s", "S(ooo)", 3.0),
    (3, "p", "P(ooo)", 1.0 / 3.0),
    (4, "s", "S(oooo)", 4.0),
    (4, "p", "P(oooo)", 0.25),
    (4, "m", "S(P(oo)P(oo))", 1.0),
    (4, "w", "P(S(oo)S(oo))", 1.0),
];

// Every shape of drivers whose coils are joined in every regular way; of those, the ones in which the powers of a resistor
// network are all alike. One to eight single coils; more coils as far as all their shapes can be held.
#[test]
fn a_brute_force_over_all_shapes_finds_every_equal_sharing() {
    let mut beyond = 0;
    for (coils, most) in [(1_u8, 8_u8), (2, 6), (3, 5), (4, 4)] {
        let own: Vec<_> = DRIVERS.iter().filter(|driver| driver.0 == coils).collect();
        let letters: Vec<&str> = own.iter().map(|driver| driver.1).collect();
        let ohm = |letter: &str| own.iter().find(|driver| driver.1 == letter).expect("a way to join").3;
        for drivers in 1..=most {
            let count = usize::from(drivers);
            let all = shapes(count, 'S', &letters).into_iter().chain(shapes(count, 'P', &letters));
            let equal: BTreeSet<String> = all.filter(|shape| shares_equally(shape, &ohm)).collect();
            let mut listed: Vec<Tree> = Vec::new();
            for wirings in [balanced(drivers, coils).unwrap(), irregular(drivers, coils).unwrap()] {
                listed.extend(wirings.into_iter().map(|wiring| wiring.tree));
            }
            let names: BTreeSet<String> = listed.iter().map(|tree| driver_shape(tree, coils)).collect();
            assert_eq!(names, equal, "{drivers} × {coils}");
            assert_eq!(names.len(), listed.len(), "no two alike, {drivers} × {coils}");
            beyond += irregular(drivers, coils).unwrap().len();
        }
    }
    assert!(beyond > 50, "{beyond}");
}

// Coils of a driver anywhere in the tree: of all trees with named coils those in which a resistor network gives every coil
// the same power, once each under renaming of drivers and coils.
#[test]
fn a_brute_force_over_all_named_trees_finds_every_equal_sharing() {
    for (drivers, coils) in [(2, 2), (3, 2), (2, 3), (1, 4), (5, 1)] {
        let mut ids = Vec::new();
        for driver in 0..drivers {
            ids.extend((0..coils).map(|coil| CoilId { driver, coil }));
        }
        let equal = all_trees(&ids).into_iter().filter(|tree| shares_equally(&short_shape(tree), &|_| 1.0));
        let brute: BTreeSet<String> = equal.map(|tree| lowest_name(&tree, drivers, coils)).collect();
        let [balanced, irregular, apart] =
            [balanced, irregular, apart].map(|list| list(drivers, coils).unwrap());
        let all: Vec<Tree> =
            [balanced, irregular, apart].concat().into_iter().map(|wiring| wiring.tree).collect();
        let listed: BTreeSet<String> = all.iter().map(|tree| lowest_name(tree, drivers, coils)).collect();
        assert_eq!(listed, brute, "{drivers} × {coils}");
        assert_eq!(listed.len(), all.len(), "no two alike, {drivers} × {coils}");
    }
}

// By hand, two drivers of two: A with A and B with B, in series pairs and in parallel pairs.
#[test]
fn coils_apart() {
    let texts: Vec<String> = apart(2, 2).unwrap().iter().map(|wiring| wiring.tree.to_string()).collect();
    assert_eq!(texts, ["(1A|2A)-(1B|2B)", "(1A-2A)|(1B-2B)"]);
    for (drivers, coils) in [(1, 4), (8, 1), (1, 1)] {
        assert!(apart(drivers, coils).unwrap().is_empty() && !has_apart(drivers, coils));
    }
}

// Every wiring of up to fourteen coils, a driver's coils together or apart, by Pólya's count: the ways to deal the coils of a shape
// out to drivers, up to the exchange of alike branches, of drivers and of a driver's coils, are the inner product of two
// cycle indices. (F. Harary, E. M. Palmer, Graphical Enumeration, 1973, chapter 8, from memory.) The same counts in Python
// with exact fractions: 6, 20, 16, 64, 44, 166, 58, 1618, 1680, 2348, 1844.
#[test]
fn as_many_wirings_as_polya_counts() {
    for (drivers, coils, expected) in [
        (2, 2, 6),
        (3, 2, 20),
        (2, 3, 16),
        (4, 2, 64),
        (2, 4, 44),
        (5, 2, 166),
        (3, 3, 58),
        (6, 2, 1618),
        (3, 4, 1680),
        (4, 3, 2348),
        (7, 2, 1844),
    ] {
        let count = usize::from(drivers * coils);
        let counted = polya(&shapes_with_equal_sharing(count), drivers, coils);
        assert!((counted - f64::from(expected)).abs() < 1e-6, "{drivers} × {coils}: {counted}");
        let lists = [balanced, irregular, apart].map(|list| list(drivers, coils).unwrap()).concat();
        assert_eq!(lists.len(), expected as usize, "{drivers} × {coils}");
        assert!(lists_every_apart(drivers, coils));
        for wiring in &lists {
            assert_eq!(wiring.tree.coils().into_iter().collect::<BTreeSet<_>>().len(), count);
            assert_eq!(wiring.tree.balance(), Some((wiring.series_count, wiring.parallel_count)));
            assert!(shares_equally(&short_shape(&wiring.tree), &|_| 1.0), "{}", wiring.tree);
        }
        // Up to nine coils every name can be tried; beyond, the very text at least.
        let names: BTreeSet<String> = lists
            .iter()
            .map(|one| if count <= 9 { name_by_drivers(&one.tree, drivers) } else { one.tree.to_string() })
            .collect();
        assert_eq!(names.len(), lists.len(), "no two alike, {drivers} × {coils}");
    }
}

/// The ways to deal the coils of so many drivers out to these shapes.
fn polya(all: &[String], drivers: u8, coils: u8) -> f64 {
    let drawn = plethysm(usize::from(drivers), &symmetric(usize::from(coils)));
    all.iter().map(|shape| inner(&cycle_index(shape), &drawn)).sum()
}

// What the page says of the lists that are not whole: the exact number at sixteen coils (in Python too: 26406, 64856), and
// millions beyond: the fewest of those, five drivers of four, have 18 763 188 (in Python, with exact fractions).
#[test]
fn the_number_of_ways_not_listed_is_polyas() {
    let sixteen = shapes_with_equal_sharing(16);
    for (drivers, coils) in (2..=8).flat_map(|drivers| [2, 4].map(|coils| (drivers, coils))) {
        let listed = lists_every_apart(drivers, coils);
        assert_eq!(
            ways_in_all(drivers, coils).is_some(),
            !listed && drivers * coils == 16,
            "{drivers} × {coils}"
        );
        if let Some(count) = ways_in_all(drivers, coils) {
            assert!((polya(&sixteen, drivers, coils) - f64::from(count)).abs() < 1e-3, "{drivers} × {coils}");
        }
    }
}

// More coils: as many as there are rows of divisions of (drivers, coils), each begun in series and in parallel, less those
// that keep every driver's coils together, which are the regular ones. By recursion over ordered factorisations of a pair.
#[test]
fn many_coils_are_divided_in_every_way() {
    for (drivers, coils) in (2..=8).flat_map(|drivers| (2..=4).map(move |coils| (drivers, coils))) {
        if drivers * coils <= MOST_APART {
            continue;
        }
        let rows = 2 * ordered_factorisations(drivers, coils);
        let list = apart(drivers, coils).unwrap();
        let expected = rows - balanced(drivers, coils).unwrap().len();
        assert_eq!(list.len(), expected, "{drivers} × {coils}");
        assert!(!lists_every_apart(drivers, coils));
        let mut rows_met = BTreeSet::new();
        for wiring in &list {
            let tree = &wiring.tree;
            assert_eq!(tree.coils().into_iter().collect::<BTreeSet<_>>().len(), usize::from(drivers * coils));
            assert!(shares_equally(&short_shape(tree), &|_| 1.0), "{tree}");
            assert!(!(0..drivers).all(|driver| is_together(tree, driver, coils)), "{tree}");
            assert_eq!(tree.balance(), Some((wiring.series_count, wiring.parallel_count)));
            assert_eq!(tree.to_string().parse::<Tree>().unwrap(), *tree);
            rows_met.insert(rows_of(tree));
        }
        // Drivers and coils in a group of each level stay what they are under any renaming: no two are alike.
        assert_eq!(rows_met.len(), list.len(), "{drivers} × {coils}");
    }
    // By hand: (3, 2) has 76 compositions as a pair of exponents of two, so 8 drivers of 4 coils have 2·76 − 8·4.
    assert_eq!(apart(8, 4).unwrap().len(), 120);
}

/// Ordered factorisations of a pair into pairs other than (1, 1).
fn ordered_factorisations(drivers: u8, coils: u8) -> usize {
    if (drivers, coils) == (1, 1) {
        return 1;
    }
    let firsts =
        (1..=drivers).flat_map(|a| (1..=coils).map(move |b| (a, b))).filter(|first| *first != (1, 1));
    let fits = firsts.filter(|(a, b)| drivers.is_multiple_of(*a) && coils.is_multiple_of(*b));
    fits.map(|(a, b)| ordered_factorisations(drivers / a, coils / b)).sum()
}

/// From the outermost group inwards: how it is joined, its drivers, and the coils of each; every group of a level alike.
fn rows_of(tree: &Tree) -> Vec<(bool, usize, usize)> {
    let Some((join, members)) = tree.members() else { return Vec::new() };
    let mut coils: BTreeMap<u8, usize> = BTreeMap::new();
    tree.coils().iter().for_each(|id| *coils.entry(id.driver).or_default() += 1);
    let each: BTreeSet<usize> = coils.values().copied().collect();
    assert_eq!(each.len(), 1, "as many coils of each driver: {tree}");
    let inner: BTreeSet<_> = members.iter().map(rows_of).collect();
    assert_eq!(inner.len(), 1, "alike members: {tree}");
    let drivers: BTreeSet<BTreeSet<u8>> =
        members.iter().map(|one| one.coils().iter().map(|id| id.driver).collect()).collect();
    let in_all: usize = drivers.iter().map(BTreeSet::len).sum();
    assert_eq!(in_all, coils.len(), "the same drivers or none in common: {tree}");
    let mut row = vec![(join == Join::Series, coils.len(), *each.first().unwrap())];
    row.extend(inner.into_iter().flatten());
    row
}

/// Every shape of so many coils in which a resistor network gives each the same power. Beyond eight coils all shapes are too
/// many: groups of shapes that share equally by themselves, for a group that does has no other members.
fn shapes_with_equal_sharing(count: usize) -> Vec<String> {
    let mut found = BTreeSet::new();
    for kind in ['S', 'P'] {
        found.extend(equal_groups(count, kind));
    }
    found.into_iter().collect()
}

fn equal_groups(count: usize, kind: char) -> BTreeSet<String> {
    let mut found =
        grouped(count, kind, &["o"], &|size, kind| equal_groups(size, kind).into_iter().collect());
    found.retain(|shape| count == 1 || shares_equally(shape, &|_| 1.0));
    found
}

/// A polynomial in cycle lengths: a sorted row of lengths, its coefficient.
type Cycles = BTreeMap<Vec<usize>, f64>;

fn times(a: &Cycles, b: &Cycles) -> Cycles {
    let mut product = Cycles::new();
    for (x, c) in a {
        for (y, d) in b {
            let mut row = [x.as_slice(), y].concat();
            row.sort_unstable();
            *product.entry(row).or_default() += c * d;
        }
    }
    product
}

/// Permutations with such cycles that one of them commutes with: Π k^m·m!.
fn weight(row: &[usize]) -> f64 {
    let mut counts: BTreeMap<usize, usize> = BTreeMap::new();
    row.iter().for_each(|length| *counts.entry(*length).or_default() += 1);
    let factor =
        |(length, count): (&usize, &usize)| (1..=*count).map(|k| (k * length) as f64).product::<f64>();
    counts.iter().map(factor).product()
}

/// Cycle index of all permutations of `count`.
fn symmetric(count: usize) -> Cycles {
    let rows = partitions_of(count, count).into_iter().map(|mut row| {
        row.sort_unstable();
        (row.clone(), 1.0 / weight(&row))
    });
    rows.collect()
}

/// Cycle index of `count` alike things, each with its own, exchanged in every way.
fn plethysm(count: usize, own: &Cycles) -> Cycles {
    let mut sum = Cycles::new();
    for row in partitions_of(count, count) {
        let mut product: Cycles = [(Vec::new(), 1.0 / weight(&row))].into();
        for length in row {
            let stretched = own.iter().map(|(x, c)| (x.iter().map(|k| k * length).collect(), *c)).collect();
            product = times(&product, &stretched);
        }
        for (row, c) in product {
            *sum.entry(row).or_default() += c;
        }
    }
    sum
}

/// Cycle index of a shape's exchanges of alike branches.
fn cycle_index(shape: &str) -> Cycles {
    let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
    let parts = members(shape);
    if parts.is_empty() {
        return [(vec![1], 1.0)].into();
    }
    parts.into_iter().for_each(|member| *counts.entry(member).or_default() += 1);
    let alike = counts.iter().map(|(member, count)| plethysm(*count, &cycle_index(member)));
    alike.fold([(Vec::new(), 1.0)].into(), |whole, part| times(&whole, &part))
}

fn inner(a: &Cycles, b: &Cycles) -> f64 {
    a.iter().filter_map(|(row, c)| Some(c * b.get(row)? * weight(row))).sum()
}

/// The first in alphabetical order of the names by renaming drivers, coils of a driver without letters.
fn name_by_drivers(tree: &Tree, drivers: u8) -> String {
    fn name(tree: &Tree, order: &[u8]) -> String {
        let Some((join, members)) = tree.members() else {
            return order[usize::from(tree.coils()[0].driver)].to_string();
        };
        let mut names: Vec<String> = members.iter().map(|member| name(member, order)).collect();
        names.sort();
        format!("{}({})", if join == Join::Series { 'S' } else { 'P' }, names.concat())
    }
    permutations(drivers).iter().map(|order| name(tree, order)).min().unwrap()
}

// By hand. Six coils: one pair side by side before two pairs side by side, or the other way round; nothing else.
#[test]
fn six_coils_have_two_irregular_wirings() {
    let texts: Vec<String> = irregular(6, 1).unwrap().iter().map(|w| w.tree.to_string()).collect();
    let (low, high) = ("(1A-2A)|((3A|4A)-(5A|6A))", "(1A|2A)-((3A-4A)|(5A-6A))");
    assert_eq!(texts, [low, high]);
    let loads: Vec<(u32, u32)> =
        irregular(6, 1).unwrap().iter().map(|w| (w.series_count, w.parallel_count)).collect();
    assert_eq!(loads, [(2, 3), (3, 2)]);
    for drivers in 1..=5 {
        assert!(irregular(drivers, 1).unwrap().is_empty());
    }
    assert!(irregular(0, 1).is_err() && irregular(9, 1).is_err() && irregular(1, 5).is_err());
}

// Loads of equal sharing are s/p with s·p coils, and a regular wiring has each of them. Every one can be written down.
#[test]
fn irregular_wirings_reach_no_other_load() {
    for drivers in 1..=8 {
        for coils in 1..=4 {
            let regular: BTreeSet<(u32, u32)> = balanced(drivers, coils)
                .unwrap()
                .iter()
                .map(|w| (w.series_count, w.parallel_count))
                .collect();
            let beyond = irregular(drivers, coils).unwrap();
            assert_eq!(!beyond.is_empty(), has_irregular(drivers, coils), "{drivers} × {coils}");
            for wiring in beyond {
                let (s, p) = (wiring.series_count, wiring.parallel_count);
                assert_eq!(s * p, u32::from(drivers) * u32::from(coils));
                assert!(regular.contains(&(s, p)), "{}", wiring.tree);
                assert_eq!(wiring.tree.to_string().parse::<Tree>().unwrap(), wiring.tree);
            }
        }
    }
}

/// Whether all drivers take the same power: a driver's coils share alike.
fn shares_equally(shape: &str, ohm: &impl Fn(&str) -> f64) -> bool {
    let mut powers = Vec::new();
    share(shape, 1.0, ohm, &mut powers);
    powers.iter().all(|power| (power - powers[0]).abs() < 1e-9)
}

fn share(shape: &str, power: f64, ohm: &impl Fn(&str) -> f64, powers: &mut Vec<f64>) {
    let members = members(shape);
    if members.is_empty() {
        powers.push(power);
        return;
    }
    let part = |member: &&str| {
        let r = resistance(member, ohm);
        if shape.starts_with('S') { r } else { 1.0 / r }
    };
    let whole: f64 = members.iter().map(part).sum();
    for member in &members {
        share(member, power * part(member) / whole, ohm, powers);
    }
}

fn resistance(shape: &str, ohm: &impl Fn(&str) -> f64) -> f64 {
    let members = members(shape);
    match shape.as_bytes().first() {
        _ if members.is_empty() => ohm(shape),
        Some(b'S') => members.iter().map(|member| resistance(member, ohm)).sum(),
        _ => 1.0 / members.iter().map(|member| 1.0 / resistance(member, ohm)).sum::<f64>(),
    }
}

/// The shape of a wiring with a letter for each driver.
fn driver_shape(tree: &Tree, coils: u8) -> String {
    let letter = |tree: &Tree| {
        let shape = short_shape(tree);
        let found = DRIVERS.iter().find(|driver| driver.0 == coils && driver.2 == shape);
        found.expect("a driver joined regularly").1.to_owned()
    };
    let drivers = |tree: &Tree| tree.coils().iter().map(|id| id.driver).collect::<BTreeSet<u8>>();
    let Some((join, parts)) = tree.members().filter(|_| drivers(tree).len() > 1) else { return letter(tree) };
    let mut shapes = Vec::new();
    for driver in drivers(tree) {
        // What a driver has of this group: all its coils, in one part or in several.
        let own: Vec<Tree> = parts.iter().filter(|part| drivers(part) == [driver].into()).cloned().collect();
        if !own.is_empty() {
            shapes.push(letter(&Tree::group(join, own)));
        }
    }
    shapes.extend(parts.iter().filter(|part| drivers(part).len() > 1).map(|part| driver_shape(part, coils)));
    shapes.sort();
    format!("{}({})", if join == Join::Series { 'S' } else { 'P' }, shapes.concat())
}

/// Shapes of `count` leaves whose outermost group is of the kind, as sorted text: `S(oP(oo))`.
fn shapes(count: usize, kind: char, leaves: &[&str]) -> Vec<String> {
    grouped(count, kind, leaves, &|size, kind| shapes(size, kind, leaves)).into_iter().collect()
}

/// The same from given shapes of the members, by their size and kind.
fn grouped(
    count: usize,
    kind: char,
    leaves: &[&str],
    members_of: &dyn Fn(usize, char) -> Vec<String>,
) -> BTreeSet<String> {
    if count == 1 {
        return leaves.iter().map(|leaf| (*leaf).to_owned()).collect();
    }
    let other = if kind == 'S' { 'P' } else { 'S' };
    let mut found = BTreeSet::new();
    for sizes in partitions_of(count, count - 1) {
        let mut rows: Vec<Vec<String>> = vec![Vec::new()];
        for size in sizes {
            let choices = members_of(size, other);
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
    found
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
    let members = members(shape);
    members.iter().all(|member| *member == members[0] && is_regular_shape(member))
}

/// The members of a group, read off the text; none of a leaf.
fn members(shape: &str) -> Vec<&str> {
    let Some(inside) = shape.get(2..shape.len().saturating_sub(1)).filter(|_| shape.len() > 1) else {
        return Vec::new();
    };
    let (mut members, mut depth, mut start) = (Vec::new(), 0_i32, 0);
    for (at, letter) in inside.char_indices() {
        depth += i32::from(letter == '(') - i32::from(letter == ')');
        if depth == 0 && (letter == ')' || letter.is_lowercase()) {
            members.push(&inside[start..=at]);
            start = at + 1;
        }
    }
    members
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
