//! The size of every piece: exact, rounded to the tape step, or as it came out.
mod shaped;

use super::axes::{Axis, Dims};
use super::bent;
use super::edges::{BOTTOM, FRONT, LEFT, RIGHT};
use super::legs;
use super::parts::{Dimension, PartId};
use super::shell::{Along, Ends, Shell};
use super::spec::{AsBuilt, BoxSpec, ChamberPort, Divider, Form, Port, SlotPort, SlotWidth};
use super::strips;
use crate::model::error::ModelError;
use crate::small::sort_by;
use crate::units::ExactLength;

/// The size of every piece, in the order of pieces and dimensions.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Sizes(Vec<((PartId, Dimension), ExactLength)>);

impl Sizes {
    /// The unrounded sizes.
    ///
    /// # Errors
    /// As [`BoxSpec::check`], and [`ModelError::Impossible`] where nothing remains of a part or of the inside.
    pub fn exact(spec: &BoxSpec) -> Result<Self, ModelError> {
        Self::with_step(spec, ExactLength::ZERO)
    }

    /// The sizes rounded to the tape step.
    ///
    /// * A panel that stands between two others goes down to a step, so that the box put together is never larger than
    ///   asked for. It comes out smaller by less than one step.
    /// * A panel that covers others goes to whichever step around the size asked for is nearer to the box put together;
    ///   what then stands over, or lacks, is less than one step and is sanded flush.
    /// * Port lengths and the faces of strips go to the nearest step.
    /// * What must slip into the shell (port roof, braces, strips) is measured from the shell as rounded and goes down
    ///   to a step, so that it fits. The last board of a bent slot makes up for what that did to its length.
    ///
    /// So every panel differs from its exact size by less than one step; what slips in by less than two, one of its own
    /// and one of the shell's.
    ///
    /// # Errors
    /// As [`Sizes::exact`].
    pub fn planned(spec: &BoxSpec) -> Result<Self, ModelError> {
        Self::with_step(spec, spec.tape_step)
    }

    pub(super) fn with_step(spec: &BoxSpec, step: ExactLength) -> Result<Self, ModelError> {
        spec.check()?;
        if spec.is_baffle() {
            return Self::of_baffle(spec, step);
        }
        if let Some(profile) = &spec.profile {
            return Self::shaped(spec, profile, step);
        }
        let mut sizes = Self(Vec::with_capacity(32));
        sizes.add_shell(spec, step);
        sizes.all_positive()?;
        let shell = Shell::assembled(spec, &sizes)?;
        sizes.add_inner(spec, shell.inside, step)?;
        sizes.all_positive()?;
        Ok(sizes.sorted())
    }

    pub(super) fn add(&mut self, id: PartId, dimension: impl Into<Dimension>, size: ExactLength) {
        self.0.push(((id, dimension.into()), size));
    }

    fn all_positive(&self) -> Result<(), ModelError> {
        if self.0.iter().all(|entry| entry.1 > ExactLength::ZERO) {
            Ok(())
        } else {
            Err(ModelError::Impossible {
                what: "nothing remains of a part: the box is too small for its boards",
            })
        }
    }

    /// These sizes with those that came out differently replaced; entries for parts that don't exist are ignored.
    ///
    /// # Errors
    /// [`ModelError::OutOfRange`] unless every size is above zero and at most 10 m.
    pub fn with_as_built(&self, as_built: &AsBuilt) -> Result<Self, ModelError> {
        let mut sizes = self.clone();
        for (key, &size) in as_built {
            if let Some(entry) = sizes.0.iter_mut().find(|entry| entry.0 == *key) {
                if size <= ExactLength::ZERO || size > super::spec::LONGEST {
                    return Err(ModelError::OutOfRange {
                        what: "size as cut in mm",
                        value: size.millimetres(),
                        min: 0.01,
                        max: super::spec::LONGEST.millimetres(),
                    });
                }
                entry.1 = size;
            }
        }
        Ok(sizes)
    }

    /// One size; zero where there is no such piece or dimension.
    #[must_use]
    pub fn get(&self, id: PartId, dimension: Dimension) -> ExactLength {
        let key = (id, dimension);
        let entry = self.0.iter().find(|entry| entry.0 == key);
        entry.map_or(ExactLength::ZERO, |entry| entry.1)
    }
    /// Whether there is such a piece.
    #[must_use]
    pub fn has(&self, id: PartId) -> bool {
        self.0.iter().any(|entry| entry.0.0 == id)
    }
    /// All pieces with their sizes.
    pub fn iter(&self) -> impl Iterator<Item = (PartId, Dimension, ExactLength)> + '_ {
        self.0.iter().map(|&((id, dimension), size)| (id, dimension, size))
    }

    /// In order of parts and dimensions.
    #[inline(never)]
    fn sorted(mut self) -> Self {
        sort_by(&mut self.0, |a, b| a.0.cmp(&b.0));
        self
    }

    /// The panels of the shell: along an axis the outside less what covers them at either end (geometry.md section 1). What
    /// runs past one end only goes down to a step like what stands between; a front let into a ring of such boards goes down
    /// once more.
    fn add_shell(&mut self, spec: &BoxSpec, step: ExactLength) {
        let walls = Shell::walls(spec);
        for axis in Axis::ALL {
            let (asked, walls) = (spec.outside.get(axis), walls.get(axis));
            let along = Along::of(spec, axis);
            let mut inside: Option<ExactLength> = None;
            for ends in [Ends::One, Ends::None] {
                let found = inside;
                for board in along.with(ends) {
                    let decides = along.decides(board);
                    // What is let into a ring follows the ring.
                    let room = found.filter(|_| !decides).unwrap_or(asked - walls);
                    let size = (room + board.past - board.cut).rounded_down_to(step);
                    self.add(board.id, axis, size + legs::beyond_front(spec, board.id, axis));
                    if decides {
                        let stands_for = size - board.past + board.cut;
                        inside = Some(inside.map_or(stands_for, |least| least.min(stands_for)));
                    }
                }
            }
            let put_together = inside.map_or(asked.rounded_down_to(step), |inside| inside + walls);
            for board in along.with(Ends::Both) {
                let size = cover(asked, put_together, step);
                self.add(board.id, axis, size + legs::beyond_front(spec, board.id, axis));
            }
        }
    }

    /// What goes into a shell of the given inside.
    fn add_inner(&mut self, spec: &BoxSpec, inside: Dims, step: ExactLength) -> Result<(), ModelError> {
        self.add_port(spec, inside, step);
        if let Form::Divided(divider) = spec.form {
            self.add_divider(divider, spec.front_thickness(), inside, step);
        }
        if !spec.braces.is_empty() {
            self.add_braces(spec, inside, step);
        }
        self.add_strips(spec, inside, step)
    }

    #[inline(never)] // few boxes have any: it may come after the first result
    fn add_braces(&mut self, spec: &BoxSpec, inside: Dims, step: ExactLength) {
        for (kind, brace) in (0u8..).zip(&spec.braces) {
            for number in 0..brace.count {
                for axis in brace.across.others() {
                    let size =
                        inside.get(axis) - slot_beside_brace(spec, brace, number, (inside, step), axis);
                    self.add(PartId::Brace(kind, number), axis, size.rounded_down_to(step));
                }
            }
        }
    }

    fn add_strips(&mut self, spec: &BoxSpec, inside: Dims, step: ExactLength) -> Result<(), ModelError> {
        let Some(corner) = &spec.strips else {
            return Ok(());
        };
        let face = corner.wide_face(spec.boards.strips.thickness).rounded_to(step);
        for &edge in &corner.edges {
            if strips::is_left_out(spec, edge) {
                continue;
            }
            let room = strips::room(spec, inside, edge);
            let length = corner.length.unwrap_or(room.length);
            if length > room.length {
                return Err(ModelError::Impossible { what: "a corner strip is longer than its edge" });
            }
            let id = PartId::Strip(edge);
            self.add(id, edge.along, length.rounded_down_to(step));
            self.add(id, Dimension::Face, face);
        }
        Ok(())
    }

    /// The divider slips in between top, bottom, front and back; its room's tubes, or the roof of its slot.
    #[inline(never)]
    fn add_divider(&mut self, divider: Divider, front: ExactLength, inside: Dims, step: ExactLength) {
        for axis in Axis::Width.others() {
            self.add(PartId::Divider, axis, inside.get(axis).rounded_down_to(step));
        }
        match divider.port {
            ChamberPort::Tubes(tubes) => {
                for number in 0..tubes.count {
                    self.add(PartId::FrontTube(number), Dimension::Depth, tubes.length.rounded_to(step));
                }
            }
            ChamberPort::Slot(slot) => {
                let length = slot.length - front;
                if length > ExactLength::ZERO {
                    self.add(PartId::FrontRoof, Dimension::Width, divider.room.rounded_down_to(step));
                    self.add(PartId::FrontRoof, Dimension::Depth, length.rounded_to(step));
                }
            }
        }
    }

    /// The layers of a front without a box.
    #[inline(never)]
    fn of_baffle(spec: &BoxSpec, step: ExactLength) -> Result<Self, ModelError> {
        let mut sizes = Self::default();
        for layer in 0..spec.front_layers {
            for axis in Axis::Depth.others() {
                sizes.add(PartId::Front(layer), axis, spec.outside.get(axis).rounded_down_to(step));
            }
        }
        sizes.all_positive()?;
        Ok(sizes.sorted())
    }

    fn add_port(&mut self, spec: &BoxSpec, inside: Dims, step: ExactLength) {
        match &spec.port {
            Port::None => {}
            Port::Round(round) => {
                for number in 0..round.count {
                    self.add(PartId::PortTube(number), Dimension::Depth, round.length.rounded_to(step));
                }
            }
            Port::Slot(slot) => self.add_slot(spec, slot, inside, step),
        }
    }

    #[inline(never)] // few boxes have one: it may come after the first result
    fn add_slot(&mut self, spec: &BoxSpec, slot: &SlotPort, inside: Dims, step: ExactLength) {
        if let Some(bent) = bent::of(spec) {
            return self.add_bent(bent, inside, step);
        }
        let length = slot.length - spec.front_thickness();
        if length == ExactLength::ZERO {
            return;
        }
        let length = length.rounded_to(step);
        // Behind a divider it is as wide as the room there.
        let room = inside.width - spec.before_cones();
        let (width, walls) = slot_build(slot.width, spec.boards.inner.thickness, room);
        let width = match slot.width {
            SlotWidth::Full => width.rounded_down_to(step),
            _ => width.rounded_to(step),
        };
        self.add(PartId::PortRoof, Dimension::Width, width);
        self.add(PartId::PortRoof, Dimension::Depth, length);
        for number in 0..walls {
            let id = PartId::PortWall(number);
            self.add(id, Dimension::Height, slot.height.rounded_to(step));
            self.add(id, Dimension::Depth, length);
        }
    }
}

/// Of the two steps around the size asked for, the one nearer to what the panel covers.
fn cover(asked: ExactLength, put_together: ExactLength, step: ExactLength) -> ExactLength {
    let below = asked.rounded_down_to(step);
    let above = below + step;
    if below != asked && above - put_together < put_together - below { above } else { below }
}

/// How much of the inside height a full-width slot takes from a front that is let in between sides and bottom: such a
/// front simply ends above the slot. Zero in every other case, where the slot is cut out; also where it is only
/// as wide as one of two rooms.
#[must_use]
pub(super) fn front_cut_back(spec: &BoxSpec) -> ExactLength {
    match &spec.port {
        Port::Slot(slot) if slot.width == SlotWidth::Full && spec.is_plain() && front_let_in(spec) => {
            slot.height
        }
        _ => ExactLength::ZERO,
    }
}

#[inline(never)] // few boxes have a slot: it may come after the first result
fn front_let_in(spec: &BoxSpec) -> bool {
    [LEFT, RIGHT, BOTTOM].into_iter().all(|other| spec.owners.owns(other, FRONT))
}

/// Width of a slot's roof and number of its added walls: b + m t (geometry.md section 5).
pub(super) fn slot_build(width: SlotWidth, thickness: ExactLength, inside: ExactLength) -> (ExactLength, u8) {
    match width {
        SlotWidth::Full => (inside, 0),
        SlotWidth::AgainstSide(opening) => (opening + thickness, 1),
        SlotWidth::FreeStanding(opening) => (opening + thickness * 2, 2),
    }
}

/// What a full-width slot takes along an axis from a brace that stands on its roof, or beside its other legs.
fn slot_beside_brace(
    spec: &BoxSpec,
    brace: &super::WindowBrace,
    number: u8,
    (inside, step): (Dims, ExactLength),
    axis: Axis,
) -> ExactLength {
    let Port::Slot(slot) = &spec.port else {
        return ExactLength::ZERO;
    };
    if let Some(bent) = bent::bending(spec) {
        let start = brace_start(inside.get(brace.across), spec.boards.inner.thickness, brace.count, number);
        return bent.taken_from_brace(brace, start, (inside, step), axis);
    }
    if axis != Axis::Height {
        return ExactLength::ZERO;
    }
    let reach = slot.length - spec.front_thickness();
    let stands_on_roof = slot.width == SlotWidth::Full
        && match brace.across {
            Axis::Width => reach > ExactLength::ZERO,
            Axis::Depth => {
                brace_start(inside.depth, spec.boards.inner.thickness, brace.count, number) < reach
            }
            Axis::Height => false,
        };
    if stands_on_roof { slot.height + spec.boards.inner.thickness } else { ExactLength::ZERO }
}

/// Where the brace `number` of `count` begins, counted from the inside face, evenly spaced.
pub(super) fn brace_start(inside: ExactLength, thickness: ExactLength, count: u8, number: u8) -> ExactLength {
    let middle = inside.eighth_micrometres() * (i64::from(number) + 1) / (i64::from(count) + 1);
    ExactLength::from_eighth_micrometres(middle) - thickness.halved()
}
