//! Every wiring that shares equally although its branches are not alike.
use super::enumerate::{BalancedWiring, assemble, by_load, level_plans};
use super::{CoilId, Join, Tree, balanced};
use crate::model::error::ModelError;

/// Every distinct wiring of equal drivers with equal coils in which all coils take equal power, beyond the regular ones
/// of [`balanced`], by rising load. The smallest takes six coils: `(1A|2A)-((3A-4A)|(5A-6A))`, or three drivers of two.
///
/// Each driver's coils are joined with each other first, in any regular way, and not every driver in the same way. Which
/// trees share equally: give every coil 1 Ω and 1 A. A series group carries one current, so each of its members must
/// need the same number p of coil currents, and its voltages s add; a parallel group has one voltage, so each of its
/// members must have the same number s of coil voltages, and its currents p add. That is all: a tree in which it holds at
/// every group gives every coil 1 A, and in one in which it fails somewhere two coils differ. Power is s·p coils, so a
/// group of n drivers of c coils in which s is known has p = n·c/s, and the members of a group can be drawn from the
/// smaller groups with the right p (series) or s (parallel); members in a set order are met once, so nothing is listed
/// twice under exchange of drivers or coils.
///
/// No load is reached by these that a regular wiring does not reach: s·p is the number of coils, and [`balanced`] has
/// every such pair. Wirings in which a driver's coils sit apart (all A coils in one group, all B coils in another) are
/// those of [`apart`](super::apart).
///
/// # Errors
/// As [`balanced`].
pub fn irregular(drivers: u8, coils_per_driver: u8) -> Result<Vec<BalancedWiring>, ModelError> {
    let regular = balanced(drivers, coils_per_driver)?;
    let maker = Maker::new(usize::from(drivers), usize::from(coils_per_driver));
    let mut found = Vec::new();
    for shape in maker.whole() {
        let tree = maker.tree(shape, &mut 0).canonical();
        let Some((series_count, parallel_count)) = tree.balance() else { continue };
        if regular.iter().all(|wiring| wiring.tree != tree) {
            found.push(BalancedWiring { tree, series_count, parallel_count });
        }
    }
    crate::small::sort_by(&mut found, by_load);
    Ok(found)
}

/// Every way to join so many single coils that shares equally, regular ones too, as drivers of one coil each; more of them
/// than a line may have drivers are allowed here.
pub(super) fn shapes(coils: u8) -> Vec<Tree> {
    let maker = Maker::new(usize::from(coils), 1);
    maker.whole().map(|shape| maker.tree(shape, &mut 0).canonical()).collect()
}

/// Whether [`irregular`] finds any, without looking for them.
///
/// One coil each: six or eight drivers, for the branches of an uneven group need two sizes with a common factor. Two or
/// more: from the count of drivers on whose coils can be joined in two ways that fit beside each other.
#[must_use]
pub const fn has_irregular(drivers: u8, coils_per_driver: u8) -> bool {
    match coils_per_driver {
        1 => drivers == 6 || drivers == 8,
        2 => drivers >= 3,
        3 => drivers >= 4,
        4 => drivers >= 2,
        _ => false,
    }
}

/// A driver with its coils joined by the numbered plan, or a group.
#[derive(Clone)]
enum Shape {
    Driver(usize),
    Group(Join, Vec<Shape>),
}

/// Shapes of so many drivers with so many coil voltages in series.
struct Made {
    drivers: usize,
    series: usize,
    shape: Shape,
}

impl Made {
    /// Whether it may be a member of such a group: a group in a group of its kind would be one group.
    fn may_join(&self, join: Join) -> bool {
        !matches!(&self.shape, Shape::Group(own, _) if *own == join)
    }
}

/// Makes shapes, small ones first.
struct Maker {
    drivers: usize,
    coils: usize,
    made: Vec<Made>,
}

impl Maker {
    fn new(drivers: usize, coils: usize) -> Self {
        let mut maker = Self { drivers, coils, made: Vec::new() };
        for (plan, levels) in level_plans(coils).iter().enumerate() {
            let series = levels.iter().filter(|(join, _)| *join == Join::Series).map(|(_, n)| n).product();
            maker.made.push(Made { drivers: 1, series, shape: Shape::Driver(plan) });
        }
        for count in 2..=drivers {
            for series in (1..=count * coils).filter(|s| (count * coils).is_multiple_of(*s)) {
                for join in [Join::Series, Join::Parallel] {
                    let mut rows = Vec::new();
                    maker.members(join, series, count, 0, &mut Vec::new(), &mut rows);
                    let shapes = rows.into_iter().map(|row| maker.group(join, &row)).collect::<Vec<_>>();
                    let group = |shape| Made { drivers: count, series, shape };
                    maker.made.extend(shapes.into_iter().map(group));
                }
            }
        }
        maker
    }

    fn group(&self, join: Join, row: &[usize]) -> Shape {
        let member = |at: &usize| self.made.get(*at).map(|made| made.shape.clone());
        Shape::Group(join, row.iter().filter_map(member).collect())
    }

    /// Rows of members that make up `left` drivers, as rising places in `made` from `from` on.
    fn members(
        &self,
        join: Join,
        series: usize,
        left: usize,
        from: usize,
        row: &mut Vec<usize>,
        rows: &mut Vec<Vec<usize>>,
    ) {
        if left == 0 {
            rows.push(row.clone());
            return;
        }
        let whole: usize =
            left + row.iter().filter_map(|at| self.made.get(*at)).map(|made| made.drivers).sum::<usize>();
        for (at, made) in self.made.iter().enumerate().skip(from) {
            let fits = match join {
                // The same p: coils over s, without dividing.
                Join::Series => made.drivers * series == whole * made.series,
                Join::Parallel => made.series == series,
            };
            // A group of one member is none.
            if made.drivers > left || made.drivers == whole || !fits || !made.may_join(join) {
                continue;
            }
            row.push(at);
            self.members(join, series, left - made.drivers, at, row, rows);
            row.pop();
        }
    }

    /// The shapes of all drivers.
    fn whole(&self) -> impl Iterator<Item = &Shape> {
        self.made.iter().filter(|made| made.drivers == self.drivers).map(|made| &made.shape)
    }

    /// The shape with its drivers numbered as they are met.
    fn tree(&self, shape: &Shape, next: &mut u8) -> Tree {
        match shape {
            Shape::Driver(plan) => {
                let driver = *next;
                *next += 1;
                let coils = (0u8..).take(self.coils).map(|coil| Tree::Coil(CoilId { driver, coil }));
                let plans = level_plans(self.coils);
                assemble(plans.get(*plan).map_or(&[], Vec::as_slice), coils.collect())
            }
            Shape::Group(join, members) => {
                Tree::group(*join, members.iter().map(|member| self.tree(member, next)).collect())
            }
        }
    }
}
