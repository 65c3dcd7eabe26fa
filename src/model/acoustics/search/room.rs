//! Whether a box of some volume goes into the space with its driver and its port, and how large it is outside.
//!
//! One arrangement each, as a builder would begin: drivers, pipes and radiators in the front, the pipe straight to the
//! back; a band-pass has its chambers side by side, the driver on the board between them. Under a leaning limit boxes of
//! every kind stand upright at several heights, and those of one closed or vented room may lean with it. What no
//! arrangement of these holds is left out, so a clever builder may still fit more.

use crate::model::acoustics::check::within;
use crate::model::error::ModelError;
use crate::units::{Length, Volume};
use std::f64::consts::PI;

/// Wood kept between round parts in a board and around them, m; common practice, no source.
const GAP_M: f64 = 0.01;
/// Share of the largest inside that is left once its sizes are rounded to the tape.
const TAPE_SHARE: f64 = 0.99;
/// Heights looked at under a leaning limit, down to this share of the whole.
const HEIGHTS: u32 = 15;
const LOWEST: f64 = 0.3;
/// Room before the cone of a band-pass, m, beyond the pipe's own; common practice, no source.
const CONE_ROOM_M: f64 = 0.06;

/// The free space and what goes into every box.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Room {
    /// Width of the space, clearances taken off.
    pub width: Length,
    /// Height of the space, clearances taken off.
    pub height: Length,
    /// Depth of the space for a box as high as it, clearances taken off.
    pub depth: Length,
    /// What the depth gains for every metre that a box stays lower, under a limit that leans; zero in a block.
    pub lean: f64,
    /// Board of the shell.
    pub board: Length,
    /// Whole thickness of the front.
    pub front: Length,
    /// Board between two chambers.
    pub divider: Length,
    /// Diameter of a driver's frame.
    pub frame: Length,
    /// Depth from the front's inside to behind the magnet, with the gap it needs.
    pub driver_depth: Length,
    /// Drivers in the front; of a band-pass on the board between its chambers.
    pub drivers: u32,
    /// Least inside width, height and depth for drivers in other faces than the front; zero without any.
    pub least: [Length; 3],
    /// Kept free along the sides and along top and bottom, for strips in the corners.
    pub edges: [Length; 2],
    /// Air that drivers, braces and strips take in every box.
    pub displaced: Volume,
}

/// A box in its place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placed {
    /// Outside width, height and depth in m.
    pub outside_m: [f64; 3],
    /// Depth along the top in m, where the back leans as the space does; the outside depth then is that along the foot.
    pub top_m: Option<f64>,
    /// Volume of the whole thing.
    pub outside: Volume,
}

/// Pipes of the chamber behind the cones of a band-pass.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Behind {
    /// None: it is closed.
    Nothing,
    /// Through the front.
    Outward(Rounds),
    /// Through the board between the chambers.
    Inward(Rounds),
}

/// Round openings in the front beside the drivers.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Rounds {
    /// How many.
    pub count: u32,
    /// Outside diameter of each, m.
    pub diameter: f64,
    /// How far they reach behind the front, m.
    pub reach: f64,
}

/// What an arrangement of a band-pass needs inside, m.
#[derive(Clone, Copy)]
struct Divided {
    /// Depth of the board between the chambers.
    depth: f64,
    /// Its height.
    height: f64,
    /// Width of the chamber behind the cones.
    rear: f64,
}

impl Room {
    /// Checks every size.
    ///
    /// # Errors
    /// [`ModelError::OutOfRange`]; [`ModelError::Impossible`] where the boards leave no inside.
    pub fn check(&self) -> Result<(), ModelError> {
        for (what, size) in [
            ("width of the space in m", self.width),
            ("height of the space in m", self.height),
            ("depth of the space in m", self.depth),
        ] {
            within(what, size.metres(), 0.01, 10.0)?;
        }
        within("board in m", self.board.metres(), 0.0, 0.1)?;
        within("front in m", self.front.metres(), 0.0, 0.3)?;
        within("board between the chambers in m", self.divider.metres(), 0.0, 0.1)?;
        within("frame in m", self.frame.metres(), 0.0, 2.0)?;
        within("depth of the driver in m", self.driver_depth.metres(), 0.0, 2.0)?;
        within("number of drivers", f64::from(self.drivers), 0.0, 64.0)?;
        for least in self.least {
            within("least inside for drivers in m", least.metres(), 0.0, 10.0)?;
        }
        within("lean of the space", self.lean, 0.0, 10.0)?;
        for edge in self.edges {
            within("edge kept free in m", edge.metres(), 0.0, 1.0)?;
        }
        within("air taken in m³", self.displaced.cubic_metres(), 0.0, 10.0)?;
        if self.inside().iter().all(|size| *size > 0.0) {
            Ok(())
        } else {
            Err(ModelError::Impossible { what: "The boards leave no room inside" })
        }
    }

    /// Largest inside width, height and depth in m.
    fn inside(&self) -> [f64; 3] {
        let board = self.board.metres();
        [
            self.width.metres() - 2.0 * board,
            self.height.metres() - 2.0 * board,
            self.depth.metres() - board - self.front(),
        ]
    }

    /// Largest volume that the inside of a box can have, less what every box holds; zero or above.
    #[must_use]
    pub fn largest(&self) -> Volume {
        // A little less than all of it: every size goes down to a step of the tape.
        let block = |[w, h, d]: [f64; 3]| (TAPE_SHARE * w * h * d - self.displaced.cubic_metres()).max(0.0);
        let largest = self.blocks().map(|room| block(room.inside())).fold(0.0, f64::max);
        let wedge = if self.lean > 0.0 { block(self.inside_wedge()) } else { 0.0 };
        Volume::from_cubic_metres(largest.max(wedge))
    }

    /// Depth of the lowest box looked at.
    pub(super) fn deepest(&self) -> f64 {
        self.blocks().map(|room| room.depth.metres()).fold(0.0, f64::max)
    }

    /// The space as blocks: itself, or under a leaning limit the lower the deeper.
    fn blocks(&self) -> impl Iterator<Item = Self> + '_ {
        let steps = if self.lean > 0.0 { HEIGHTS } else { 1 };
        (0..steps).map(move |step| {
            let height =
                self.height.metres() * (1.0 - (1.0 - LOWEST) * f64::from(step) / f64::from(HEIGHTS - 1));
            let depth = self.depth.metres() + self.lean * (self.height.metres() - height);
            let (height, depth) = (Length::from_metres(height), Length::from_metres(depth));
            Self { height, depth, lean: 0.0, ..*self }
        })
    }

    /// Air that pipes take which reach so far behind their board, wall included, m³.
    pub(super) fn pipe_volume(&self, outside: f64, behind: f64, count: u32) -> f64 {
        f64::from(count) * PI * 0.25 * outside * outside * behind
    }

    /// The board that a pipe behind the cones goes through, and the outside size along it: the front, or inward the
    /// board between the chambers.
    pub(super) fn behind(&self, inward: bool) -> (f64, f64) {
        if inward {
            // The chamber before the cones and the board between take their share of the width.
            let board = self.divider.metres();
            (board, self.width.metres() - CONE_ROOM_M - board)
        } else {
            (self.front(), self.deepest())
        }
    }

    /// Thickness of the front, m.
    pub(super) fn front(&self) -> f64 {
        self.front.metres()
    }

    /// A box of one chamber with this much air inside, pipes and drivers taken off already; under a leaning limit one
    /// with plain sides where there is one, otherwise one whose back leans.
    pub(super) fn place(&self, air: f64, rounds: &Rounds) -> Option<Placed> {
        let upright = self.place_upright(air, rounds);
        if self.lean > 0.0 { upright.or_else(|| self.place_wedge(air, rounds)) } else { upright }
    }

    /// A box with plain sides; under a leaning limit the smallest outside that holds it, of equal ones the highest.
    pub(super) fn place_upright(&self, air: f64, rounds: &Rounds) -> Option<Placed> {
        if self.lean > 0.0 {
            return smallest(self.blocks().filter_map(|room| room.place_upright(air, rounds)));
        }
        let [most_w, most_h, most_d] = self.inside();
        let gross = air + self.displaced.cubic_metres();
        let [least_w, least_h, least_d] = self.least.map(Length::metres);
        let deepest = self.driver_depth.metres().max(rounds.reach).max(least_d);
        if deepest > most_d || gross <= 0.0 {
            return None;
        }
        let arrangement = |(w, h): (f64, f64)| {
            let (w, h) = (w.max(least_w), h.max(least_h));
            // The front's area must hold the openings, and with it the depth must come out deep enough.
            let least = (w * h).max(gross / most_d);
            let most = if deepest > 0.0 { (gross / deepest).min(most_w * most_h) } else { most_w * most_h };
            (w <= most_w && h <= most_h && least <= most).then_some((w, h, least, most))
        };
        let fitting = self.fronts(rounds).into_iter().filter_map(arrangement);
        let (w, h, least, most) = fitting.min_by(|a, b| a.2.total_cmp(&b.2))?;
        // As near to a cube as the space and the parts let it: least wood, and the usual beginning.
        let area = gross.powf(2.0 / 3.0).max(least).min(most);
        let width = area.sqrt().max(area / most_h).max(w).min(area / h.max(1e-6)).min(most_w);
        Some(self.outside(width, area / width, gross / area))
    }

    /// Inside width, height and mean depth of a box as high as the space whose back leans as the space does: a leaning
    /// board takes its thickness over the cosine of its lean (geometry.md section 2).
    fn inside_wedge(&self) -> [f64; 3] {
        let board = self.board.metres();
        let foot = self.depth.metres() + self.lean * self.height.metres();
        let mean = (self.depth.metres() + foot) / 2.0 - self.front() - board * self.lean.hypot(1.0);
        [self.width.metres() - 2.0 * board, self.height.metres() - 2.0 * board, mean]
    }

    /// The space at each height looked at, for a box whose back leans as the limit does: the lower it is, the deeper at
    /// its top, and as deep at its foot.
    fn slices(&self) -> impl Iterator<Item = Self> + '_ {
        self.blocks().map(|block| Self { lean: self.lean, ..block })
    }

    /// A box with a back that leans as the limit does, as wide as its air needs; the smallest outside of all heights.
    fn place_wedge(&self, air: f64, rounds: &Rounds) -> Option<Placed> {
        smallest(self.slices().filter_map(|slice| slice.place_slice(air, rounds)))
    }

    /// One as high as the space.
    fn place_slice(&self, air: f64, rounds: &Rounds) -> Option<Placed> {
        let [most_w, high, mean] = self.inside_wedge();
        let gross = air + self.displaced.cubic_metres();
        // What stands in the front stands at half its height: there the depth is the mean.
        let [least_w, least_h, least_d] = self.least.map(Length::metres);
        if high <= 0.0
            || mean <= 0.0
            || self.driver_depth.metres().max(rounds.reach).max(least_d) > mean
            || high < least_h
        {
            return None;
        }
        let width = gross / (high * mean);
        let holds = |(w, h): &(f64, f64)| *w <= width && *h <= high;
        if width > TAPE_SHARE * most_w || width < least_w || !self.fronts(rounds).iter().any(holds) {
            return None;
        }
        let board = self.board.metres();
        let (top, foot) = (self.depth.metres(), self.depth.metres() + self.lean * self.height.metres());
        let outside = [width + 2.0 * board, self.height.metres(), foot];
        let volume = outside[0] * outside[1] * (top + foot) / 2.0;
        Some(Placed { outside_m: outside, top_m: Some(top), outside: Volume::from_cubic_metres(volume) })
    }

    /// Least width and height of a front with drivers and further openings: in one row, or one row over the other, with
    /// the same wood between them as around them, as the front's drawing spreads them.
    fn fronts(&self, rounds: &Rounds) -> [(f64, f64); 4] {
        let (drivers, others) = (f64::from(self.drivers), f64::from(rounds.count));
        let frame = if self.drivers > 0 { self.frame.metres() } else { 0.0 };
        let round = rounds.diameter;
        let [gap_w, gap_h] = self.edges.map(|edge| (edge.metres() + GAP_M * 0.2).max(GAP_M));
        let row = |gap: f64| {
            let both = drivers * frame + others * round + (drivers + others + 1.0) * gap;
            let alone = drivers * frame + (drivers + 1.0) * gap;
            (both, alone.max(others * round + (others + 1.0) * gap))
        };
        let across = |gap: f64| {
            let beside = if rounds.count > 0 { frame + round + 3.0 * gap } else { frame + 2.0 * gap };
            (frame.max(round) + 2.0 * gap, beside)
        };
        let ((one_w, two_w), (one_h, two_h)) = (row(gap_w), row(gap_h));
        let ((flat_w, pair_w), (flat_h, pair_h)) = (across(gap_w), across(gap_h));
        [(one_w, flat_h), (flat_w, one_h), (two_w, pair_h), (pair_w, two_h)]
    }

    /// A band-pass: chambers side by side across the width, behind and before the cones, both as high and as deep as the
    /// box.
    pub(super) fn place_two(&self, air: [f64; 2], before: &Rounds, behind: &Behind) -> Option<Placed> {
        if self.lean > 0.0 {
            return smallest(self.blocks().filter_map(|room| room.place_two(air, before, behind)));
        }
        smallest(self.dividers(behind).into_iter().filter_map(|least| self.two(air, before, &least)))
    }

    /// Arrangements of the drivers in a row along the depth of the board between the chambers, and of the pipes behind
    /// the cones: through that board beside or over the drivers; through the front beside the magnets or before them.
    fn dividers(&self, behind: &Behind) -> [Divided; 2] {
        let frame = self.frame.metres() + 2.0 * GAP_M;
        let row = f64::from(self.drivers) * frame;
        let driver = self.driver_depth.metres();
        let plain = Divided { depth: row, height: frame, rear: driver };
        match behind {
            Behind::Nothing => [plain; 2],
            Behind::Outward(pipes) => {
                let alone = pipes.reach - pipes.diameter;
                let stacked = f64::from(pipes.count) * (pipes.diameter + GAP_M) + GAP_M;
                let height = frame.max(stacked);
                let deep = pipes.reach.max(row);
                // A pipe stands in the middle of its room.
                let beside = Divided { rear: 2.0 * driver + pipes.diameter, depth: deep, height };
                let before = Divided {
                    rear: driver.max(self.beside_corner(pipes)),
                    depth: deep.max(row + 2.0 * alone),
                    height,
                };
                [beside, before]
            }
            Behind::Inward(pipes) => {
                let pipe = pipes.diameter + 2.0 * GAP_M + self.edges[0].metres();
                let along = f64::from(pipes.count) * pipe;
                let rear = driver.max(pipes.reach);
                let beside = Divided { depth: row + along, height: frame.max(pipe), rear };
                let over = Divided { depth: row.max(along), height: frame + pipe, rear };
                [beside, over]
            }
        }
    }

    /// Width of a room for pipes beside the strip in its corner.
    fn beside_corner(&self, pipes: &Rounds) -> f64 {
        self.edges[0].metres() + pipes.diameter + 2.0 * GAP_M
    }

    /// One arrangement of it.
    fn two(&self, air: [f64; 2], before: &Rounds, divided: &Divided) -> Option<Placed> {
        let [most_w, most_h, most_d] = self.inside();
        let (rear, front) = (air[0] + self.displaced.cubic_metres(), air[1]);
        let across = CONE_ROOM_M.max(self.beside_corner(before));
        let (least_depth, least_height) = (divided.depth.max(before.reach), divided.height);
        let board = self.divider.metres();
        if least_depth > most_d || least_height > most_h || most_w <= board || rear <= 0.0 || front <= 0.0 {
            return None;
        }
        // Area of the board between the chambers: wide chambers have a small one.
        let least = ((rear + front) / (most_w - board)).max(least_height * least_depth);
        let most = (front / across).min(if divided.rear > 0.0 { rear / divided.rear } else { f64::MAX });
        let most = most.min(most_h * most_d);
        if least > most {
            return None;
        }
        let area = (rear + front).powf(2.0 / 3.0).max(least).min(most);
        let depth = area.sqrt().max(area / most_h).max(least_depth).min(area / least_height).min(most_d);
        Some(self.outside((rear + front) / area + board, area / depth, depth))
    }

    fn outside(&self, width: f64, height: f64, depth: f64) -> Placed {
        let board = self.board.metres();
        let outside = [width + 2.0 * board, height + 2.0 * board, depth + board + self.front()];
        Placed {
            outside_m: outside,
            top_m: None,
            outside: Volume::from_cubic_metres(outside.iter().product()),
        }
    }
}

fn smallest(places: impl Iterator<Item = Placed>) -> Option<Placed> {
    places.min_by(|a, b| a.outside.cubic_metres().total_cmp(&b.outside.cubic_metres()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn room() -> Room {
        let m = Length::from_metres;
        Room {
            width: m(0.7),
            height: m(0.4),
            depth: m(0.4),
            lean: 0.0,
            board: m(0.02),
            front: m(0.04),
            divider: m(0.02),
            frame: m(0.26),
            driver_depth: m(0.16),
            drivers: 1,
            least: [m(0.0); 3],
            edges: [m(0.0); 2],
            displaced: Volume::from_litres(2.0),
        }
    }

    /// 0.66 × 0.36 × 0.34 m inside, 2 l taken: by hand.
    #[test]
    fn what_just_fits_fits_and_a_little_more_does_not() {
        let room = room();
        let most = 0.66 * 0.36 * 0.34 - 0.002;
        assert!((room.largest().cubic_metres() - most).abs() < 0.011 * most);
        let placed = room.place(most * 0.999_999, &Rounds::default()).unwrap();
        for (size, space) in placed.outside_m.iter().zip([0.7, 0.4, 0.4]) {
            assert!(*size <= space + 1e-6, "{placed:?}");
        }
        assert_eq!(room.place(most * 1.001, &Rounds::default()), None);
    }

    #[test]
    fn a_pipe_longer_than_the_box_does_not_fit() {
        let room = room();
        let rounds = |reach| Rounds { count: 1, diameter: 0.11, reach };
        assert!(room.place(0.05, &rounds(0.33)).is_some());
        assert_eq!(room.place(0.05, &rounds(0.35)), None);
        // Deep enough for the pipe, this little air leaves no front for driver and pipe.
        assert_eq!(room.place(0.02, &rounds(0.33)), None);
    }

    /// 0.4 m deep at 0.4 m of height and half a metre more for each metre lower: at 0.2 m of height 0.5 m deep, with
    /// 0.66 × 0.16 × 0.44 m inside. A pipe that needs 0.40 m goes into that, and not into a box of the whole height.
    #[test]
    fn under_a_leaning_limit_a_lower_box_is_deeper() {
        let leaning = Room { lean: 0.5, frame: Length::from_metres(0.12), ..room() };
        let upright = Room { lean: 0.0, ..leaning };
        let rounds = Rounds { count: 1, diameter: 0.11, reach: 0.40 };
        assert_eq!(upright.place(0.03, &rounds), None);
        let placed = leaning.place(0.03, &rounds).expect("a low, deep box");
        let [_, height, depth] = placed.outside_m;
        assert!(depth - 0.06 >= 0.40 - 1e-9, "{placed:?}");
        assert!(depth <= 0.4 + 0.5 * (0.4 - height) + 1e-9, "{placed:?} reaches beyond the limit");
        assert!(leaning.largest().cubic_metres() >= upright.largest().cubic_metres());
        // The lowest looked at is three tenths as high.
        assert!((leaning.deepest() - 0.54).abs() < 1e-12);
        // Whatever fits the upright space still does.
        assert!(leaning.place(0.05, &Rounds::default()).is_some());
    }

    /// Air that no block of the space holds goes into a box whose back leans, as much as geometry.md section 2 says: width
    /// times height times the mean of the depths less front and back, the back's thickness over the cosine of its lean.
    #[test]
    fn a_wedge_holds_what_no_block_does() {
        let leaning = Room { lean: 0.5, ..room() };
        // Blocks hold at most this, whatever their height.
        let block = (0..=100)
            .map(|step| 0.4 * (1.0 - 0.005 * f64::from(step)))
            .map(|high| 0.66 * (high - 0.04) * (0.4 + 0.5 * (0.4 - high) - 0.06))
            .fold(0.0, f64::max);
        let wedge = 0.66 * 0.36 * ((0.4 + 0.6) / 2.0 - 0.04 - 0.02 * 1.25_f64.sqrt());
        assert!(wedge > 1.1 * block);
        for air in [block - 0.001, 0.97 * wedge - 0.002] {
            let placed = leaning.place(air, &Rounds::default()).expect("a wedge");
            assert!((placed.top_m.expect("a leaning back") - 0.4).abs() < 1e-12);
            let [w, h, foot] = placed.outside_m;
            let inside = (w - 0.04) * (h - 0.04) * ((0.4 + foot) / 2.0 - 0.04 - 0.02 * 1.25_f64.sqrt());
            assert!((inside - air - 0.002).abs() < 1e-9 && w <= 0.7 && (foot - 0.6).abs() < 1e-12);
        }
        assert_eq!(leaning.place(wedge, &Rounds::default()), None);
        assert_eq!(leaning.place(0.5 * block, &Rounds::default()).and_then(|placed| placed.top_m), None);
    }

    /// Drivers in other faces that ask for 0.5 × 0.3 × 0.2 m inside: no box is smaller, whatever its air, and none is found
    /// for less than these hold, 30 l, or where the space is lower; a front without drivers asks for nothing.
    #[test]
    fn drivers_in_other_faces_have_their_room() {
        let m = Length::from_metres;
        let least = [0.5, 0.3, 0.2];
        let bare = Room { drivers: 0, driver_depth: m(0.0), ..room() };
        let faced = Room { least: least.map(m), ..bare };
        let mut placed_boxes = 0;
        for step in 1..80 {
            let air = f64::from(step) * 1e-3;
            let Some(placed) = faced.place(air, &Rounds::default()) else {
                assert!(air + 0.002 < 0.03 || air + 0.002 > 0.66 * 0.36 * 0.34, "{air}");
                continue;
            };
            let [w, h, d] = placed.outside_m;
            let inside = [w - 0.04, h - 0.04, d - 0.06];
            assert!(inside.iter().zip(least).all(|(size, least)| *size >= least - 1e-9), "{air}: {placed:?}");
            assert!((inside.iter().product::<f64>() - air - 0.002).abs() < 1e-9, "{air}: {placed:?}");
            placed_boxes += 1;
        }
        assert!(placed_boxes > 40, "{placed_boxes}");
        let low = Room { height: m(0.33), ..faced };
        assert_eq!(low.place(0.04, &Rounds::default()), None);
        assert!(bare.place(0.005, &Rounds::default()).is_some());
    }

    /// Whatever is placed holds the air asked for and stays inside the space.
    #[test]
    fn what_is_placed_holds_its_air() {
        let room = room();
        let mut placed_boxes = 0;
        for step in 1..80 {
            let air = f64::from(step) * 1e-3;
            for reach in [0.0, 0.1, 0.2, 0.3] {
                let rounds = Rounds { count: u32::from(reach > 0.0), diameter: 0.08, reach };
                let Some(placed) = room.place(air, &rounds) else { continue };
                let [w, h, d] = placed.outside_m;
                let inside = (w - 0.04) * (h - 0.04) * (d - 0.06);
                assert!((inside - air - 0.002).abs() < 1e-9, "{air}: {placed:?}");
                assert!(w < 0.7 + 1e-9 && h < 0.4 + 1e-9 && d < 0.4 + 1e-9, "{air}: {placed:?}");
                assert!(d - 0.06 >= reach.max(0.16) - 1e-9, "{air}: {placed:?}");
                placed_boxes += 1;
            }
        }
        assert!(placed_boxes > 100, "{placed_boxes}");
    }
}
