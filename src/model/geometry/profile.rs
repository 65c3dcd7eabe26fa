//! The side of a box that is no rectangle: a slanted back, a slanted front, both, or a step.
use super::assembly::elsewhere;
use super::axes::{Axis, Dims, End, InsideEdge, Point};
use super::bent::shaped::{self, Run};
use super::edges::Place;
use super::parts::{Dimension, PartId};
use super::plane::{At, dot, meet, minus, moved};
use super::polygon::{Polygon, Turn};
use super::section::{BoardSection, Section, Wall};
use super::sizes::Sizes;
use super::spec::{BoxSpec, LONGEST, Loose, Port, SlotWidth};
use crate::model::error::ModelError;
use crate::units::ExactLength;

/// What the side is instead of a rectangle. The sides cover all other boards.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Profile {
    /// How far the upper edge of the front stands behind its lower one; zero for an upright front.
    pub setback: ExactLength,
    /// The back.
    pub back: Back,
    /// How the back meets the boards at its ends.
    pub joint: BackJoint,
    /// How the front meets top and bottom.
    pub front: BackJoint,
}

/// The back of a shaped box.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Back {
    /// Upright.
    Upright,
    /// Leaning forward, so that the box is this deep along its top outside.
    TopDepth(ExactLength),
    /// Leaning forward by so much over so much height.
    Slope {
        /// Forward.
        run: ExactLength,
        /// Over this height.
        rise: ExactLength,
    },
    /// A step: above or below a height the box is less deep.
    Step {
        /// Outside height of the step above the underside.
        height: ExactLength,
        /// Outside depth of the shallower part, from the front's lower edge.
        depth: ExactLength,
        /// Which part is shallower: low for the one below the step.
        shallow: End,
    },
}

/// How back or front meet top, bottom and step.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BackJoint {
    /// It covers their rear edges.
    Over,
    /// It stands between them.
    Between,
}

impl Profile {
    /// Length along the front for each length of its height.
    pub(super) fn slope(&self, height: ExactLength) -> f64 {
        let high = height.millimetres().max(1e-6);
        high.hypot(self.setback.millimetres()) / high
    }

    /// Whether a board covers those at its ends.
    pub(super) fn is_cover(&self, part: PartId) -> bool {
        match part {
            PartId::Front(_) => self.front == BackJoint::Over,
            PartId::Back => self.joint == BackJoint::Over,
            _ => false,
        }
    }

    /// Checks its own sizes; what excludes what shows when the boards are put around it.
    ///
    /// # Errors
    /// [`ModelError::OutOfRange`], and [`ModelError::Impossible`] for what these boxes can't have.
    pub(super) fn check(&self, spec: &BoxSpec) -> Result<(), ModelError> {
        let most = LONGEST.millimetres();
        let within = |what, value: ExactLength, least: f64| {
            crate::model::error::within(what, value.millimetres(), least, most).map(|_| ())
        };
        within("how far the front leans back in mm", self.setback, 0.0)?;
        match self.back {
            Back::Upright => {}
            Back::TopDepth(depth) => within("depth at the top in mm", depth, 0.01)?,
            Back::Slope { run, rise } => {
                within("slope of the back in mm", run, 0.0)?;
                within("height of the slope in mm", rise, 0.01)?;
            }
            Back::Step { height, depth, .. } => {
                within("height of the step in mm", height, 0.01)?;
                within("depth at the step in mm", depth, 0.01)?;
            }
        }
        let refuse = |what| Err(ModelError::Impossible { what });
        if spec.legs.is_some() {
            return refuse("a box on legs has plain sides: choose a rectangular box, or no legs");
        }
        let before = spec.divider().is_some_and(|divider| divider.slot().is_some());
        let slot = before || matches!(spec.port, Port::Slot(_));
        let whole =
            spec.is_plain() && matches!(&spec.port, Port::Slot(slot) if slot.width == SlotWidth::Full);
        if self.setback > ExactLength::ZERO && slot && !whole {
            return refuse(
                "behind a front that leans a slot is as wide as the one room of the box: choose a round port, or an upright front",
            );
        }
        if self.front == BackJoint::Between && slot {
            return refuse(
                "a slot port needs a front that covers top and bottom: choose that, or a round port",
            );
        }
        if spec.braces.iter().any(|brace| brace.across != Axis::Width) {
            return refuse("in a shaped box braces stand parallel to the sides");
        }
        Ok(())
    }
}

/// The boards around the side of a shaped box, unrounded.
///
/// # Errors
/// As [`Section::new`]; [`ModelError::Missing`] for a box whose sides are rectangles.
pub fn side(spec: &BoxSpec) -> Result<Section, ModelError> {
    unrounded(spec)?.section()
}

/// One of them: of a front the layer asked for.
///
/// # Errors
/// As [`side`], and where there is no such board.
pub fn board(spec: &BoxSpec, id: PartId) -> Result<BoardSection, ModelError> {
    let shape = unrounded(spec)?;
    shape.board(&shape.section()?, id)
}

fn unrounded(spec: &BoxSpec) -> Result<Shape, ModelError> {
    let profile = spec.profile.as_ref().ok_or(ModelError::Missing { what: "the shape of the sides" })?;
    Shape::asked(spec, profile, ExactLength::ZERO)
}

/// The sides of a shaped box as numbers: rounded or as cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Shape {
    pub(super) width: ExactLength,
    pub(super) height: ExactLength,
    setback: ExactLength,
    /// Depth of the rear edge at the bottom and at the top.
    low: ExactLength,
    high: ExactLength,
    step: Option<ExactLength>,
    joint: BackJoint,
    front_joint: BackJoint,
    thickness: ExactLength,
    front: ExactLength,
    /// The outer layer of the front.
    outer: ExactLength,
}

impl Shape {
    /// The shape asked for, its sizes rounded to a step.
    pub(super) fn asked(spec: &BoxSpec, profile: &Profile, step: ExactLength) -> Result<Self, ModelError> {
        let round = |length: ExactLength| length.rounded_down_to(step);
        let thickness = spec.boards.shell.thickness;
        let outside = spec.outside;
        let (height, depth) = (round(outside.height), round(outside.depth));
        let setback = profile.setback;
        let (low, high, step) = match profile.back {
            Back::Upright => (depth, depth, None),
            Back::TopDepth(top) => (depth, setback + round(top), None),
            Back::Slope { run, rise } => {
                let forward = run.millimetres() * height.millimetres() / rise.millimetres().max(1e-3);
                (depth, round(depth - ExactLength::from_millimetres(forward)), None)
            }
            Back::Step { height: level, depth: shallower, shallow } => {
                let (shallower, level) = (round(shallower), level.rounded_to(step));
                if level <= thickness || level + thickness >= height {
                    return Err(ModelError::Impossible {
                        what: "the step lies within a board's thickness of the top or the bottom",
                    });
                }
                if shallower >= depth {
                    return Err(ModelError::Impossible {
                        what: "the part beside the step is as deep as the box or deeper",
                    });
                }
                let ends = if shallow == End::High { (depth, shallower) } else { (shallower, depth) };
                (ends.0, ends.1, Some(level))
            }
        };
        // A lean that the tape doesn't show is none: the box as cut stands upright, and so does the one it is compared with.
        let tape = |length: ExactLength| length.rounded_down_to(spec.tape_step);
        let upright = step.is_none() && tape(low) == setback + tape(high - setback);
        let high = if upright { low } else { high };
        if high > low && step.is_none() {
            return Err(ModelError::Impossible {
                what: "the back leans forward: plan a box that is deeper at the top upside down",
            });
        }
        Ok(Self {
            width: round(outside.width - thickness * 2) + thickness * 2,
            height,
            setback,
            low,
            high,
            step,
            joint: profile.joint,
            front_joint: profile.front,
            thickness,
            front: spec.front_thickness(),
            outer: spec.boards.front[0].thickness,
        })
    }

    /// The shape that boards cut to these sizes come to: bottom and top say where the back stands at its foot and at its
    /// head, the sides how high the box is, the lower upright board how high the step lies, the narrowest board between
    /// the sides how wide it is.
    pub(super) fn as_cut(self, sizes: &Sizes) -> Result<Self, ModelError> {
        let mut cut = self;
        let boards =
            sizes.iter().filter(|&(id, size, _)| size == Dimension::Width && self.wall(id).is_some());
        cut.width = boards.map(|entry| entry.2).min().unwrap_or_default() + self.thickness * 2;
        let sides = [PartId::Left, PartId::Right].map(|id| sizes.get(id, Dimension::Height));
        cut.height = sides[0].min(sides[1]);
        let upright = self.low == self.high;
        // A board that is longer by so much moves the back by nearly as much: a few rounds meet.
        for _ in 0..5 {
            let section = cut.section()?;
            let off = |id: PartId, size| -> Result<ExactLength, ModelError> {
                Ok(sizes.get(id, size) - cut.length(&section, id)?)
            };
            let (mut low, mut high) =
                (off(PartId::Bottom, Dimension::Depth)?, off(PartId::Top, Dimension::Depth)?);
            // An upright back stands at the shorter of the two.
            if upright {
                (low, high) = (low.min(high), low.min(high));
            }
            let lower = if self.low > self.high { PartId::Back } else { PartId::Riser };
            let step = match cut.step {
                Some(step) => Some(step + off(lower, Dimension::Height)?),
                None => None,
            };
            (cut.low, cut.high, cut.step) = (cut.low + low, cut.high + high, step);
        }
        Ok(cut)
    }

    /// Length of the side along the front, in millimetres.
    pub(super) fn front_edge(&self) -> f64 {
        self.height.millimetres().hypot(self.setback.millimetres())
    }

    /// Outside size of the block around it.
    pub(super) fn outside(&self) -> Dims {
        Dims { width: self.width, height: self.height, depth: self.low.max(self.high) }
    }

    /// Corners of the side, anticlockwise from the lower edge of the front, front to the left.
    pub(super) fn outline(&self) -> Vec<At> {
        let [low, high, up, back] =
            [self.low, self.high, self.height, self.setback].map(ExactLength::millimetres);
        let mut outline = vec![[0.0, 0.0], [low, 0.0]];
        if let Some(step) = self.step.map(ExactLength::millimetres) {
            outline.extend([[low, step], [high, step]]);
        }
        outline.extend([[high, up], [back, up]]);
        outline
    }

    /// The boards along its edges; the front stands for all its layers.
    pub(super) fn names(&self) -> Vec<PartId> {
        use PartId::{Back, Bottom, Front, Riser, Top, Tread};
        match self.step {
            None => vec![Bottom, Back, Top, Front(0)],
            Some(_) if self.low > self.high => vec![Bottom, Back, Tread, Riser, Top, Front(0)],
            Some(_) => vec![Bottom, Riser, Tread, Back, Top, Front(0)],
        }
    }

    /// Whether one board covers the end of the next.
    fn covers(&self, a: PartId, b: PartId, hollow: bool) -> bool {
        // In the inside corner of a step the level board runs through.
        if hollow {
            return a == PartId::Tread;
        }
        let rank = |id| match id {
            PartId::Front(_) if self.front_joint == BackJoint::Over => 3,
            PartId::Front(_) => 0,
            PartId::Back | PartId::Riser if self.joint == BackJoint::Over => 2,
            PartId::Back | PartId::Riser => 0,
            _ => 1,
        };
        rank(a) > rank(b)
    }

    /// The boards around the side.
    pub(super) fn section(&self) -> Result<Section, ModelError> {
        let names = self.names();
        let walls = names.iter().zip(names.iter().cycle().skip(1)).map(|(&id, &next)| {
            let hollow =
                matches!((id, next), (PartId::Tread, PartId::Riser) | (PartId::Riser, PartId::Tread));
            let thick = if matches!(id, PartId::Front(_)) { self.front } else { self.thickness };
            Wall { thickness: thick.millimetres(), covers_next: self.covers(id, next, hollow) }
        });
        Section::new(self.outline(), walls.collect())
    }

    /// Length of a board around the side, from long point to long point.
    pub(super) fn length(&self, section: &Section, id: PartId) -> Result<ExactLength, ModelError> {
        Ok(ExactLength::from_millimetres(self.board(section, id)?.blank()))
    }

    /// Section of a board, of a front the layer asked for.
    pub(super) fn board(&self, section: &Section, id: PartId) -> Result<BoardSection, ModelError> {
        let within = match id {
            PartId::Front(0) => [ExactLength::ZERO, self.outer],
            PartId::Front(_) => [self.outer, self.front],
            _ => [ExactLength::ZERO, self.thickness],
        };
        let wall = self.wall(id).ok_or(ModelError::Missing { what: "a board of the side" })?;
        let [from, to] = within.map(ExactLength::millimetres);
        section.board(wall, from, to)
    }

    /// The place of a board around the outline.
    pub(super) fn wall(&self, id: PartId) -> Option<usize> {
        let front = matches!(id, PartId::Front(_));
        self.names().into_iter().position(|name| name == id || front && matches!(name, PartId::Front(_)))
    }

    /// How the boards that lean are turned from upright: the front about its lower edge, the back about its foot.
    pub(super) fn turn(&self, id: PartId) -> Option<Turn> {
        let lean = |run: ExactLength| (run.millimetres() / self.height.millimetres().max(1e-6)).atan();
        match id {
            PartId::Front(_) => Turn::new([0.0, 0.0], lean(self.setback)),
            PartId::Back if self.step.is_none() => {
                Turn::new([self.low.millimetres(), 0.0], -lean(self.low - self.high))
            }
            _ => None,
        }
    }
}

/// The inside of a shaped box.
#[derive(Clone, Copy)]
pub(super) struct Inside {
    pub(super) polygon: Polygon,
    /// The wall that is the back.
    back_wall: usize,
    /// The block around it.
    pub(super) min: Point,
    pub(super) size: Dims,
    /// Middle of the back's height and of the width, as if the back stood upright.
    back: Point,
}

impl Inside {
    pub(super) fn of(shape: &Shape) -> Result<Self, ModelError> {
        let section = shape.section()?;
        let polygon = Polygon::new(section.inner());
        let [low, high] = polygon.bounds();
        let mm = ExactLength::from_millimetres;
        let min = Point { width: shape.thickness, height: mm(low[1]), depth: mm(low[0]) };
        let size = Dims {
            width: shape.width - shape.thickness * 2,
            height: mm(high[1]) - min.height,
            depth: mm(high[0]) - min.depth,
        };
        let back = shape.board(&section, PartId::Back)?;
        let ends = back.inner.map(|at| shape.turn(PartId::Back).map_or(at, |turn| turn.back().point(at))[1]);
        // A quarter of the way up, as in any other box, where that is on the back.
        let quarter = shape.height.millimetres() / 4.0;
        let (foot, head) = (ends[0].min(ends[1]), ends[0].max(ends[1]));
        let up = if quarter > foot && quarter < head && shape.step.is_none() {
            quarter
        } else {
            (foot + head) / 2.0
        };
        let back = Point { width: shape.width.halved(), height: mm(up), depth: ExactLength::ZERO };
        let back_wall = shape.wall(PartId::Back).unwrap_or(1);
        Ok(Self { polygon, back_wall, min, size, back })
    }

    /// The specification with those strips that stand where boards meet squarely, and the terminals on the back.
    pub(super) fn fitted(&self, spec: &BoxSpec) -> BoxSpec {
        let mut spec = spec.clone();
        if let Some(strips) = &mut spec.strips {
            strips.edges.retain(|&edge| self.is_square(edge));
            if strips.edges.is_empty() {
                spec.strips = None;
            }
        }
        // Of a divided box in the middle of what the divider leaves of the back.
        let middle = (self.back.width * 2 + spec.before_cones()).halved();
        let usual = spec.terminal.as_ref().is_some_and(|terminal| elsewhere::is_usual(&spec, terminal));
        let usual = usual && !shaped::takes_terminals(&spec);
        if let Some(terminal) = spec.terminal.as_mut().filter(|_| usual) {
            terminal.centre = terminal.centre.or(Some(Point { width: middle, ..self.back }));
        }
        spec
    }

    /// The wall of the section that a board which is no side stands along.
    pub(super) fn wall(&self, (axis, end): Place) -> usize {
        match (axis, end) {
            (Axis::Height, End::Low) => 0,
            (Axis::Height, End::High) => self.polygon.corners().len().saturating_sub(2),
            (Axis::Depth, End::Low) => self.polygon.corners().len().saturating_sub(1),
            _ => self.back_wall,
        }
    }

    /// The inner faces that battens of a board have at its two ends, on the walls beside it.
    ///
    /// # Errors
    /// [`ModelError::Impossible`] where the walls beside it are no deeper than the battens.
    pub(super) fn before_board(&self, loose: Loose) -> Result<[At; 2], ModelError> {
        let (line, by) = (self.polygon.corners(), loose.batten.millimetres());
        let count = line.len().max(1);
        let corner = |i: usize| line.get(i % count).copied().unwrap_or_default();
        let wall = self.wall(loose.face);
        let inner = moved([corner(wall), corner(wall + 1)], by);
        let ends = [(wall, wall + count - 1), (wall + 1, wall + 2)].map(|(near, far)| {
            let beside = [corner(near), corner(far)];
            let way = minus(beside[1], beside[0]);
            meet(inner, beside).filter(|at| dot(minus(*at, beside[0]), way) < dot(way, way))
        });
        match ends {
            [Some(low), Some(high)] => Ok([low, high]),
            _ => Err(ModelError::Impossible {
                what: "the battens of the board that comes off are thicker than a wall beside it is deep",
            }),
        }
    }

    /// The inside that battens leave for what ends at them.
    ///
    /// # Errors
    /// As [`Inside::before_board`].
    #[inline(never)] // few boxes have any: it may come after the first result
    pub(super) fn before_battens(&self, loose: Loose) -> Result<Self, ModelError> {
        let mut left = *self;
        match loose.face {
            (Axis::Width, end) => {
                left.size.width = left.size.width - loose.batten;
                if end == End::Low {
                    left.min.width = left.min.width + loose.batten;
                }
            }
            face => {
                let ends = self.before_board(loose)?;
                let wall = self.wall(face);
                let mut line = self.polygon.corners().to_vec();
                let count = line.len();
                for (i, at) in ends.into_iter().enumerate() {
                    if let Some(corner) = line.get_mut((wall + i) % count) {
                        *corner = at;
                    }
                }
                left.polygon = Polygon::new(&line);
            }
        }
        Ok(left)
    }

    /// Whether boards meet at right angles all along an edge of the block around the inside.
    pub(super) fn is_square(&self, edge: InsideEdge) -> bool {
        let ends = |axis| edge.end(axis).map_or(vec![End::Low, End::High], |end| vec![end]);
        ends(Axis::Depth)
            .into_iter()
            .all(|depth| ends(Axis::Height).into_iter().all(|height| self.square_corner(depth, height)))
    }

    fn square_corner(&self, depth: End, height: End) -> bool {
        let bounds = self.polygon.bounds();
        let pick = |end, axis: usize| bounds[usize::from(end == End::High)][axis];
        let corner = [pick(depth, 0), pick(height, 1)];
        let near = |a: f64, b: f64| (a - b).abs() < 1e-3;
        let corners = self.polygon.corners();
        let count = corners.len();
        (0..count).any(|i| {
            let (before, after) = (corners[(i + count - 1) % count], corners[(i + 1) % count]);
            let at = corners[i];
            let level = |other: At| near(other[1], at[1]);
            let upright = |other: At| near(other[0], at[0]);
            near(at[0], corner[0])
                && near(at[1], corner[1])
                && (level(before) && upright(after) || upright(before) && level(after))
        })
    }

    /// The same above a level.
    pub(super) fn over(&self, level: f64) -> Self {
        let above = self.polygon.clipped(1, level, true);
        let mut corners = above.corners().to_vec();
        // From the front's lower corner, which is cut off last.
        let turns = usize::from(corners.len() > 1);
        corners.rotate_right(turns);
        Self { polygon: Polygon::new(&corners), ..*self }
    }

    /// What a brace parallel to the sides fills: all of the section, above the roof of a slot and before one that bends.
    pub(super) fn brace(&self, spec: &BoxSpec, run: Option<&Run>) -> Polygon {
        if let Some(run) = run {
            return run.before();
        }
        match &spec.port {
            Port::Slot(slot) if slot.width == SlotWidth::Full && slot.length > spec.front_thickness() => {
                let roof = self.min.height + slot.height + spec.boards.inner.thickness;
                self.polygon.clipped(1, roof.millimetres(), true)
            }
            _ => self.polygon,
        }
    }
}
