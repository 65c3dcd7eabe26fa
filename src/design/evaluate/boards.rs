//! Boards of what is not one room with everything in its front: radiators, two rooms, a baffle.
use super::enclosure::{
    Fixed, Which, acoustic_port, chamber_port, fill_outside, fit_deep, front_is_slot, front_opening, is_slot,
    plain_spec, port_count, space, space_for, template, wanted_front, wanted_front_tuning, wanted_net,
    wanted_tuning,
};
use super::kind::Kind;
use super::{Filled, missing, needed_length, shape};
use crate::design::built;
use crate::design::document::Sheet;
use crate::design::limits::FieldId;
use crate::design::report::{BoxReport, Gap, Part, PortReport};
use crate::model::acoustics::{self, Air, Load, Opening, SealedChamber, closed_box_frequency};
use crate::model::geometry::divide::{LEAST_ROOM, Rooms, divide};
use crate::model::geometry::{
    Axis, BoxSpec, ChamberPort, ChamberSlot, ChamberTubes, Dims, Divider, Fit, Form, Port, PortAsCut,
    RadiatorCutout, RadiatorPlace, RoundPort, SlotPort, SlotWidth, plan,
};
use crate::units::{ExactLength, Frequency, Length, Volume};
use std::rc::Rc;

/// Openings for the passive radiators.
#[inline(never)]
pub(super) fn radiators(sheet: &Sheet, filled: &mut Filled) -> Part<Form> {
    let needed = [FieldId::RadiatorCutOut, FieldId::RadiatorOutside, FieldId::RadiatorDepth];
    let lacking: Vec<FieldId> = needed.into_iter().filter(|id| sheet.given(*id).is_none()).collect();
    if !lacking.is_empty() {
        return Err(missing(&lacking));
    }
    let displacement = sheet.si(FieldId::RadiatorDisplacement).unwrap_or_else(|| {
        filled.insert(FieldId::RadiatorDisplacement, 0.0);
        0.0
    });
    Ok(Form::Radiators(RadiatorCutout {
        count: sheet.choice_key(FieldId::RadiatorCount).parse().unwrap_or(1),
        cutout: needed_length(sheet, FieldId::RadiatorCutOut)?,
        flange: needed_length(sheet, FieldId::RadiatorOutside)?,
        depth: needed_length(sheet, FieldId::RadiatorDepth)?,
        displacement: Volume::from_cubic_metres(displacement),
        place: match sheet.choice_key(FieldId::RadiatorPlace) {
            "sides" => RadiatorPlace::Sides,
            _ => RadiatorPlace::Front,
        },
    }))
}

/// The board of an infinite baffle: as large as typed, or as the opening in the car less its clearance.
#[inline(never)]
pub(super) fn baffle(sheet: &Sheet, filled: &mut Filled) -> Part<BoxReport> {
    let clearance = needed_length(sheet, FieldId::Clearance)?;
    let mut size = |given: FieldId, opening: FieldId| {
        sheet.length(given).or_else(|| {
            let size = sheet.length(opening)? - clearance * 2;
            filled.insert(given, size.metres());
            Some(size)
        })
    };
    let width = size(FieldId::BoxWidth, FieldId::SpaceWidth);
    let height = size(FieldId::BoxHeight, FieldId::SpaceHeight);
    let (Some(width), Some(height)) = (width, height) else {
        return Err(Gap::Missing(vec![
            vec![FieldId::SpaceWidth, FieldId::SpaceHeight],
            vec![FieldId::BoxWidth, FieldId::BoxHeight],
        ]));
    };
    let mut spec = plain_spec(sheet, space(sheet), filled)?;
    spec.form = Form::Baffle;
    spec.outside.width = width;
    spec.outside.height = height;
    spec.outside.depth = spec.front_thickness();
    let plan = plan(&spec, &built::sizes(sheet.built()))?;
    Ok(BoxReport {
        wanted: None,
        largest: None,
        fits: true,
        outside: plan.current().assembly.outside,
        port: None,
        front_port: None,
        spec,
        plan: Rc::new(plan),
    })
}

/// What a divided box is asked for.
struct Asked<'a> {
    sheet: &'a Sheet,
    load: &'a Load,
    air: &'a Air,
    wanted: Rooms,
}

/// A box with two rooms: each as large as wanted, or both smaller alike where the space does not hold them; ports as
/// long as their tunings need there.
#[inline(never)]
pub(super) fn divided(sheet: &Sheet, load: Option<&Load>, air: &Air, filled: &mut Filled) -> Part<BoxReport> {
    let load = load.ok_or(Gap::Waiting)?;
    let fixed = Fixed::of(sheet);
    let wanted = Rooms {
        rear: wanted_net(sheet, Some(load), air, filled)?,
        front: wanted_front(sheet, load, air, filled)?,
    };
    let space = space_for(sheet, &fixed)?;
    let mut spec = template(sheet, space, filled)?;
    // What runs across would meet the divider; the driver lies on it.
    if let Some(strips) = &mut spec.strips {
        strips.edges.retain(|edge| edge.along != Axis::Width);
    }
    spec.strips = spec.strips.take().filter(|strips| !strips.edges.is_empty());
    if let Some(driver) = &mut spec.driver {
        driver.recess = None;
    }
    let asked = Asked { sheet, load, air, wanted };
    let (found, tunings) = asked.settle(&fixed, spec, filled)?;
    let Fit { spec, mut largest, mut fits, net, .. } = found;
    let total = wanted.rear + wanted.front;
    if fixed.all() {
        fits = net.litres() >= total.litres() * 0.98;
        largest = Some(net);
    }
    fill_outside(sheet, spec.outside, filled);
    let plan = plan(&spec, &built::sizes(sheet.built()))?;
    let as_cut = |port: Option<PortAsCut>, net: Option<Volume>, wanted: Option<Frequency>, which| {
        let Some((port, net)) = port.zip(net) else { return Ok(None) };
        let acoustic = acoustic_port(&port, sheet, which);
        Ok::<_, Gap>(Some(PortReport {
            tuning: acoustic.tuning(net, air)?,
            wanted,
            length: port.length,
            area_m2: acoustic.opening.area().square_metres() * f64::from(port.count),
            least_area_m2: None,
        }))
    };
    let build = plan.current();
    let port = as_cut(build.assembly.port, Some(plan.net()), tunings.0, Which::Behind)?;
    let room = build.front_room.as_ref().map(|room| room.net);
    let front_port = as_cut(build.assembly.front_port, room, Some(tunings.1), Which::Before)?;
    Ok(BoxReport {
        wanted: Some(total),
        largest,
        fits,
        outside: plan.current().assembly.outside,
        port,
        front_port,
        spec,
        plan: Rc::new(plan),
    })
}

/// Inside widths of both rooms.
#[derive(Clone, Copy)]
struct Widths {
    front: ExactLength,
    rear: ExactLength,
}

impl Widths {
    /// Those of a box that is divided already.
    fn of(spec: &BoxSpec) -> Self {
        let front = spec.divider().map_or(LEAST_ROOM, |divider| divider.room);
        let rear = spec.outside.width - spec.boards.shell.thickness * 2 - spec.before_cones();
        Self { front, rear }
    }

    fn half_way_from(self, other: Self, step: ExactLength) -> Self {
        let middle = |a: ExactLength, b: ExactLength| (a + b).halved().rounded_to(step);
        Self { front: middle(self.front, other.front), rear: middle(self.rear, other.rear) }
    }

    /// To begin with: the width entered, or that of the space, shared out as the volumes are.
    fn guessed(sheet: &Sheet, spec: &BoxSpec, rooms: Rooms) -> Self {
        let walls = spec.boards.shell.thickness * 2 + spec.boards.inner.thickness;
        let outside = sheet.length(FieldId::BoxWidth).or(spec.space.map(|space| space.usable().width));
        let inside = (outside.unwrap_or(walls) - walls).max(LEAST_ROOM * 4);
        let share = rooms.front.litres() / (rooms.front + rooms.rear).litres();
        let front = ExactLength::from_millimetres(inside.millimetres() * share).rounded_to(spec.tape_step);
        let front = front.max(LEAST_ROOM);
        Self { front, rear: (inside - front).max(LEAST_ROOM) }
    }
}

/// Most rounds in which ports and rooms are brought together.
const ROUNDS: usize = 16;

impl Asked<'_> {
    /// The outside for both rooms, the divider between them, the ports for what they hold.
    fn settle(
        &self,
        fixed: &Fixed,
        mut spec: BoxSpec,
        filled: &mut Filled,
    ) -> Part<(Fit, (Option<Frequency>, Frequency))> {
        let total = self.wanted.rear + self.wanted.front;
        let mut rooms = self.wanted;
        let mut widths = Widths::guessed(self.sheet, &spec, rooms);
        let mut last: Option<(Fit, (Option<Frequency>, Frequency))> = None;
        let mut deepest = Dims::default();
        for round in 0..ROUNDS {
            let before = (spec.form, spec.port.clone());
            let tunings = self.add_ports(&mut spec, (rooms, widths), filled)?;
            if let Some(last) = last.take_if(|_| before == (spec.form, spec.port.clone())) {
                return Ok(last);
            }
            let request = fixed.request(total, spec.space);
            // A wide room and a deep box may call for each other, as a slot is as wide as its room: then the deep one stays.
            let kept = (round > ROUNDS / 2).then(|| request.as_deep_as(deepest));
            let found = fit_deep(kept.as_ref().unwrap_or(&request), &spec)?;
            if found.spec.outside.depth > deepest.depth {
                deepest = found.spec.outside;
            }
            // A box that is smaller, or fixed at another size, gives each room its share.
            let share = if found.fits && !fixed.all() { 1.0 } else { found.net.litres() / total.litres() };
            let (divided, held) = divide(&found.spec, self.wanted.front * share)?;
            rooms = if share == 1.0 { self.wanted } else { held };
            // Half way: a wider room has a longer slot, which asks for a wider room.
            widths = Widths::of(&divided).half_way_from(widths, spec.tape_step);
            last = Some((Fit { spec: divided, ..found }, tunings));
        }
        last.ok_or(Gap::Waiting)
    }

    /// A size of the outside: as fixed, or what the space gives.
    fn free(&self, spec: &BoxSpec, fixed: FieldId, of: fn(Dims) -> ExactLength) -> Option<Length> {
        let size = self.sheet.length(fixed).or(spec.space.map(|space| of(space.usable())))?;
        Some(size.to_length())
    }

    /// What is free from front to back where a port lies: along the floor, or half way up.
    fn free_depth(&self, spec: &BoxSpec, on_floor: bool) -> Option<Length> {
        let depth = self.free(spec, FieldId::BoxDepth, |usable| usable.depth)?;
        if spec.profile.is_none() {
            return Some(depth);
        }
        let height = self.free(spec, FieldId::BoxHeight, |usable| usable.height)?;
        Some(shape::depth_at(spec, [depth, height], if on_floor { 0.0 } else { 0.5 }))
    }

    /// What is free from the divider to the right side: its share of the width, or of a shaped box, which is as deep as its
    /// space, what its volume makes of its section.
    fn free_width(&self, spec: &BoxSpec, rooms: Rooms) -> Option<Length> {
        let share = rooms.rear.litres() / (rooms.rear + rooms.front).litres();
        let whole = self.free(spec, FieldId::BoxWidth, |usable| usable.width)? * share;
        if spec.profile.is_none() || self.sheet.length(FieldId::BoxWidth).is_some() {
            return Some(whole);
        }
        let deep = self.free_depth(spec, false)?.metres();
        let high = self.free(spec, FieldId::BoxHeight, |usable| usable.height)?.metres();
        let by_volume = rooms.rear.cubic_metres() / (deep * high).max(1e-3);
        Some(Length::from_metres(whole.metres().min(by_volume)))
    }

    /// Both ports, as long as their tunings need; gives the tunings asked for.
    fn add_ports(
        &self,
        spec: &mut BoxSpec,
        (rooms, widths): (Rooms, Widths),
        filled: &mut Filled,
    ) -> Part<(Option<Frequency>, Frequency)> {
        let (sheet, air) = (self.sheet, self.air);
        let kind = Kind::of(sheet);
        let inward = kind == Kind::Bandpass6Inward;
        let (tuning, behind) = if kind == Kind::Bandpass4 {
            let gain = sheet.si(FieldId::Stuffing).unwrap_or(0.0);
            let rear = SealedChamber { volume: rooms.rear, losses: acoustics::Losses::default() };
            (None, closed_box_frequency(self.load, rear.stuffed(gain)?.volume, air)?)
        } else {
            let tuning = self.add_rear_port(spec, (rooms, widths), inward, filled)?;
            // Twice the rear tuning spreads the band over an octave; common practice, no source.
            (Some(tuning), Frequency::from_hertz(2.0 * tuning.hertz()))
        };
        let wanted = wanted_front_tuning(sheet, behind, filled);
        let (opening, count) = front_opening(sheet, Some(widths.front))?;
        let given = sheet.given(FieldId::FrontPortLength);
        let at =
            |tuning| chamber_port(sheet, opening, count, given, (tuning, rooms.front), air, Which::Before);
        let asked_for = sheet.given(FieldId::FrontTuning).is_some() || given.is_some();
        let wanted = if asked_for {
            wanted
        } else {
            let wanted = match self.free_depth(spec, front_is_slot(sheet)) {
                Some(depth) => within(spec, &at(wanted)?, (wanted, rooms.front), depth, air)?,
                None => wanted,
            };
            filled.insert(FieldId::FrontTuning, wanted.hertz());
            wanted
        };
        let length = whole_length(&at(wanted)?, spec.front_thickness());
        if given.is_none() {
            filled.insert(FieldId::FrontPortLength, length.metres());
        }
        let port = if front_is_slot(sheet) {
            ChamberPort::Slot(ChamberSlot { height: needed_length(sheet, FieldId::FrontSlotHeight)?, length })
        } else {
            ChamberPort::Tubes(ChamberTubes {
                count: u8::try_from(count).unwrap_or(1),
                diameter: needed_length(sheet, FieldId::FrontPortDiameter)?,
                wall: needed_length(sheet, FieldId::PortWall)?,
                length,
            })
        };
        // What slots take depends on where the divider stands, what tubes take does not.
        let slots = front_is_slot(sheet) || matches!(spec.port, Port::Slot(_));
        let room = if slots { widths.front } else { LEAST_ROOM };
        spec.form = Form::Divided(Divider { room, port, inward });
        Ok((tuning, wanted))
    }

    fn add_rear_port(
        &self,
        spec: &mut BoxSpec,
        (rooms, widths): (Rooms, Widths),
        inward: bool,
        filled: &mut Filled,
    ) -> Part<Frequency> {
        let (sheet, air, net) = (self.sheet, self.air, rooms.rear);
        let mut tuning = wanted_tuning(sheet, Some(net), Some(self.load), air, filled)?;
        let slot = is_slot(sheet);
        let height = needed_length(sheet, if slot { FieldId::SlotHeight } else { FieldId::PortDiameter })?;
        let given = sheet.given(FieldId::PortLength);
        let count = port_count(sheet);
        let opening = if slot {
            Opening::Slot { width: widths.rear.to_length(), height: height.to_length() }
        } else {
            Opening::Round { diameter: height.to_length() }
        };
        let at =
            |tuning| chamber_port(sheet, opening, u32::from(count), given, (tuning, net), air, Which::Behind);
        // A tube between the rooms lies across the rear one, which has its share of the width.
        let room = if inward { self.free_width(spec, rooms) } else { self.free_depth(spec, slot) };
        if let (None, None, Some(room)) = (sheet.given(FieldId::WantedTuning), given, room) {
            tuning = within(spec, &at(tuning)?, (tuning, net), room, air)?;
            filled.insert(FieldId::WantedTuning, tuning.hertz());
        }
        let board = if inward { spec.boards.inner.thickness } else { spec.front_thickness() };
        let length = whole_length(&at(tuning)?, board);
        if given.is_none() {
            filled.insert(FieldId::PortLength, length.metres());
        }
        spec.port = if slot {
            Port::Slot(SlotPort { height, length, width: SlotWidth::Full, bends: 0 })
        } else {
            let wall = needed_length(sheet, FieldId::PortWall)?;
            Port::Round(RoundPort { count, diameter: height, wall, length, centres: Vec::new() })
        };
        Ok(tuning)
    }
}

/// As cut: at least as long as the board it goes through.
fn whole_length(port: &acoustics::Port, board: ExactLength) -> ExactLength {
    ExactLength::from_millimetres(port.length.millimetres()).max(board)
}

/// A tuning of a volume that nobody asked for, raised to what a straight port reaches in a room this long with its own
/// diameter or height before its inner end.
fn within(
    spec: &BoxSpec,
    port: &acoustics::Port,
    (tuning, volume): (Frequency, Volume),
    room: Length,
    air: &Air,
) -> Part<Frequency> {
    let clear = match port.opening {
        Opening::Round { diameter } => diameter,
        Opening::Slot { height, .. } => height,
    };
    let walls = (spec.boards.shell.thickness + spec.tape_step * 2).to_length();
    let longest = (room - walls - clear).metres().max(spec.front_thickness().metres());
    if port.length.metres() <= longest {
        return Ok(tuning);
    }
    let lowest = acoustics::Port { length: Length::from_metres(longest), ..*port }.tuning(volume, air)?;
    Ok(Frequency::from_hertz(lowest.hertz().ceil().max(tuning.hertz())))
}
