//! The box: what volume is wanted, what fits, what is cut, and how the port comes out.
use super::boards;
use super::kind::Kind;
use super::rings::is_stack;
use super::testbox::{add_legs, is_test_box};
use super::{Filled, missing, needed_length, shape};
use crate::design::built;
use crate::design::document::Sheet;
use crate::design::faces;
use crate::design::limits::FieldId;
use crate::design::look::{self, Look};
use crate::design::report::{BoxReport, Gap, Part, PortReport};
use crate::design::space::is_measured;
use crate::design::wood;
use crate::model::acoustics::datasheet::Resolved;
use crate::model::acoustics::{
    self, Air, End, Load, Opening, SmallSignal, closed_box_volume, minimum_port_area,
};
use crate::model::error::ModelError;
use crate::model::geometry::assembly::PortAsCut;
use crate::model::geometry::checks::{POLE_VENT_GAP, SCREW_EDGE};
use crate::model::geometry::edges::{BACK, FRONT, Place};
use crate::model::geometry::{
    Axis, Board, BoxSpec, ChamberPort, CornerStrips, Dims, DriverCutout, Fit, FitRequest, Form, HoleShape,
    MeasuredStripFace, Port, RadiatorCutout, RadiatorPlace, Recess, RoundPort, SlotPort, SlotWidth, Space,
    StripVoids, TerminalHole, Window, WindowBrace, bends_well, fit, plan, slot_lacks_room,
};
use crate::units::{Entered, ExactLength, Frequency, Length, Volume};
use std::f64::consts::FRAC_1_SQRT_2;
use std::rc::Rc;

/// Volumes a default may take; outside of this a number has to be typed.
const DEFAULT_LITRES: std::ops::RangeInclusive<f64> = 3.0..=500.0;

/// Whether the box is vented.
fn is_vented(sheet: &Sheet) -> bool {
    Kind::of(sheet) == Kind::Vented
}

/// Whether the port of the room behind the cones is a slot; one that leads into the room before them is a tube.
#[inline(never)]
pub(super) fn is_slot(sheet: &Sheet) -> bool {
    matches!(Kind::of(sheet), Kind::Vented | Kind::Bandpass6Outward)
        && sheet.choice_key(FieldId::PortShape) == "slot"
}

/// Whether the port of the room before the cones is a slot.
#[inline(never)] // few boxes have one: it may come after the first result
pub(super) fn front_is_slot(sheet: &Sheet) -> bool {
    sheet.choice_key(FieldId::FrontPortShape) == "slot"
}

#[inline(never)] // its words come after the first result
fn qtc_too_low() -> ModelError {
    ModelError::Impossible {
        what: "a closed box only raises the driver's Qts, which is not below the wanted Qtc: ask for a higher Qtc, or enter the net volume",
    }
}

/// The net volume asked for, or what the alignment asked for needs.
///
/// Vented without a number: Vb = 15·N·Vas·Qts^2.87, a fit attributed to Keele; plausible only, up to a third too large
/// against the exact alignments, so a starting point.
pub(super) fn wanted_net(sheet: &Sheet, load: Option<&Load>, air: &Air, filled: &mut Filled) -> Part<Volume> {
    if let Some(litres) = sheet.si(FieldId::WantedNet) {
        return Ok(Volume::from_cubic_metres(litres));
    }
    let load = load.ok_or_else(|| missing(&[FieldId::WantedNet]))?;
    let found = if !Kind::of(sheet).is_closed_behind() {
        let set = load.driver.small_signal(air)?;
        let litres = 15.0 * total_vas(load, &set).litres() * set.qts().powf(2.87);
        Some(Volume::from_litres(roomy(sheet).map_or(litres, |most| litres.min(most.litres()))))
    } else {
        let load = if Kind::of(sheet) == Kind::PushPull { &load.in_pairs()? } else { load };
        // Stuffing makes a smaller box act as large as the one wanted.
        let stuffed = 1.0 + sheet.si(FieldId::Stuffing).unwrap_or(0.0);
        let needed = closed_box_volume(load, sheet.si(FieldId::WantedQtc).unwrap_or(0.71), air)?;
        Some(needed.ok_or_else(qtc_too_low)? * (1.0 / stuffed))
    };
    let volume = found
        .filter(|v| DEFAULT_LITRES.contains(&v.litres()))
        .ok_or_else(|| missing(&[FieldId::WantedNet]))?;
    filled.insert(FieldId::WantedNet, volume.cubic_metres());
    Ok(volume)
}

/// Compliance volume of all drivers together.
fn total_vas(load: &Load, set: &SmallSignal) -> Volume {
    Volume::from_cubic_metres(load.wiring.drivers as f64 * set.vas.cubic_metres())
}

/// What a box that fills the space holds about: four fifths of the inside, as port, driver and strips take their share.
#[inline(never)] // not every box needs it: it may come after the first result
fn roomy(sheet: &Sheet) -> Option<Volume> {
    let usable = space(sheet)?.usable();
    let board = sheet.length(FieldId::Board)?;
    let slot = if is_slot(sheet) { sheet.length(FieldId::SlotHeight)? + board } else { ExactLength::ZERO };
    let leg = bent_leg(sheet).unwrap_or_default();
    let above = leg * i64::from(bends(sheet).saturating_sub(1));
    let high = usable.height - board * 2 - slot - above;
    let inside = [usable.width - board * 2, high, usable.depth - board * 3 - leg];
    let litres: f64 = inside.iter().map(|size| size.millimetres().max(0.0) * 0.01).product();
    // A slant or a step takes its share, too.
    Some(Volume::from_litres(litres * if shape::is_shaped(sheet) { 0.55 } else { 0.8 }))
}

/// The tuning asked for, or fb = fs·(Vas/Vb)^0.32, the fit that goes with the volume above and tunes a smaller box
/// higher.
#[inline(never)] // not every box needs it: it may come after the first result
pub(super) fn wanted_tuning(
    sheet: &Sheet,
    net: Option<Volume>,
    load: Option<&Load>,
    air: &Air,
    filled: &mut Filled,
) -> Part<Frequency> {
    if let Some(hertz) = sheet.si(FieldId::WantedTuning) {
        return Ok(Frequency::from_hertz(hertz));
    }
    let load = load.ok_or_else(|| missing(&[FieldId::WantedTuning]))?;
    let set = load.driver.small_signal(air)?;
    let net =
        net.or_else(|| sheet.si(FieldId::WantedNet).map(Volume::from_cubic_metres)).or_else(|| roomy(sheet));
    let net = net.ok_or_else(|| missing(&[FieldId::WantedTuning]))?;
    let ratio = total_vas(load, &set).litres() / net.litres();
    let hertz = (set.fs.hertz() * ratio.powf(0.32)).clamp(15.0, 100.0);
    filled.insert(FieldId::WantedTuning, hertz);
    Ok(Frequency::from_hertz(hertz))
}

/// The net volume before the cones, or Vf = (2·S·Qts)²·N·Vas with S = 0.7: the symmetric band-pass without ripple.
///
/// Derived in `circuits.md` section 6 of the reference data, of one structure with Fincham 1979 and Geddes 1989; for
/// the kinds vented at both ends a starting point only.
#[inline(never)] // not every box needs it: it may come after the first result
pub(super) fn wanted_front(sheet: &Sheet, load: &Load, air: &Air, filled: &mut Filled) -> Part<Volume> {
    if let Some(volume) = sheet.si(FieldId::FrontNet) {
        return Ok(Volume::from_cubic_metres(volume));
    }
    let set = load.driver.small_signal(air)?;
    let volume = total_vas(load, &set) * (1.4 * set.qts()).powi(2);
    if !DEFAULT_LITRES.contains(&volume.litres()) {
        return Err(missing(&[FieldId::FrontNet]));
    }
    filled.insert(FieldId::FrontNet, volume.cubic_metres());
    Ok(volume)
}

/// The tuning before the cones, or that of what is behind them: the symmetric band-pass.
#[inline(never)] // not every box needs it: it may come after the first result
pub(super) fn wanted_front_tuning(sheet: &Sheet, behind: Frequency, filled: &mut Filled) -> Frequency {
    match sheet.si(FieldId::FrontTuning) {
        Some(hertz) => Frequency::from_hertz(hertz),
        None => {
            let hertz = behind.hertz().clamp(15.0, 300.0);
            filled.insert(FieldId::FrontTuning, hertz);
            Frequency::from_hertz(hertz)
        }
    }
}

/// Opening and number of the ports before the cones; a slot is as wide as its room, and while that is not known as wide as
/// slots often are: five times their height.
#[inline(never)] // not every box needs it: it may come after the first result
pub(super) fn front_opening(sheet: &Sheet, room: Option<ExactLength>) -> Part<(Opening, u32)> {
    if front_is_slot(sheet) {
        let height = needed_length(sheet, FieldId::FrontSlotHeight)?;
        let width = room.unwrap_or(height * 5).to_length();
        return Ok((Opening::Slot { width, height: height.to_length() }, 1));
    }
    let diameter = needed_length(sheet, FieldId::FrontPortDiameter)?.to_length();
    let count = sheet.choice_key(FieldId::FrontPortCount).parse().unwrap_or(1);
    Ok((Opening::Round { diameter }, count))
}

/// Which port of a box with two rooms.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Which {
    /// That of the room behind the cones, or the only one.
    Behind,
    /// That of the room before them.
    Before,
}

/// A port of a given length, or as long as a tuning of a volume needs.
#[inline(never)] // not every box needs it: it may come after the first result
pub(super) fn chamber_port(
    sheet: &Sheet,
    opening: Opening,
    count: u32,
    given: Option<Entered>,
    (tuning, volume): (Frequency, Volume),
    air: &Air,
    which: Which,
) -> Part<acoustics::Port> {
    let (inner, outer) = ends(sheet, matches!(opening, Opening::Round { .. }), which);
    let qp = sheet.si(FieldId::PortLoss);
    let port = acoustics::Port { opening, length: Length::from_metres(0.0), inner, outer, count, qp };
    let length = match given {
        Some(length) => length.exact_length().to_length(),
        None => port.length_for_tuning(tuning, volume, air)?.unwrap_or(Length::from_metres(0.0)),
    };
    Ok(acoustics::Port { length, ..port })
}

/// Ends and flare of the port before the cones.
const FRONT_ENDS: [FieldId; 2] = [FieldId::FrontPortEnds, FieldId::FrontFlareRadius];

/// How a port's ends meet the air: a tube free inside and flush outside, a slot along the floor inside, or as chosen.
#[inline(never)] // not every box needs it: it may come after the first result
fn ends(sheet: &Sheet, round: bool, which: Which) -> (End, End) {
    let own = which == Which::Before && sheet.choice_key(FieldId::FrontPortEnds) != "same";
    let [chosen, flare] = if own { FRONT_ENDS } else { [FieldId::PortEnds, FieldId::FlareRadius] };
    let radius = || Length::from_metres(sheet.si(flare).unwrap_or(0.015));
    match (sheet.choice_key(chosen), round) {
        ("flush", true) => (End::Flanged, End::Flanged),
        ("flush", false) => (End::RectFlanged, End::RectFlanged),
        ("free", _) => (End::Free, End::Free),
        ("corner", false) => (End::RectCorner, End::RectFlanged),
        ("flared", true) => (End::Flared { radius: radius() }, End::Flared { radius: radius() }),
        ("flared outside", true) => (End::Free, End::Flared { radius: radius() }),
        (_, true) => (End::Free, End::Flanged),
        (_, false) => (End::RectWall, End::RectFlanged),
    }
}

/// Radius to which the outer mouth of a tube is rounded over, where its end is entered as flared.
#[inline(never)] // not every box needs it: it may come after the first result
pub fn mouth_radius(sheet: &Sheet, before_cones: bool) -> Option<ExactLength> {
    flares(sheet, before_cones)[1]
}

/// Radii of a tube's inner and outer end, where they are entered as flared.
#[must_use]
#[inline(never)] // not every box needs it: it may come after the first result
pub fn flares(sheet: &Sheet, before_cones: bool) -> [Option<ExactLength>; 2] {
    let which = if before_cones { Which::Before } else { Which::Behind };
    let (inner, outer) = ends(sheet, true, which);
    [inner, outer].map(|end| match end {
        End::Flared { radius } => Some(ExactLength::from_millimetres(radius.metres() * 1e3)),
        _ => None,
    })
}

pub(super) fn report(
    sheet: &Sheet,
    load: Option<&Load>,
    driver: Option<&Resolved>,
    air: &Air,
    filled: &mut Filled,
) -> Part<BoxReport> {
    match Kind::of(sheet) {
        _ if is_stack(sheet) => return Err(Gap::Rings),
        Kind::InfiniteBaffle => return boards::baffle(sheet, filled),
        Kind::Bandpass4 | Kind::Bandpass6Outward | Kind::Bandpass6Inward => {
            return boards::divided(sheet, load, air, filled);
        }
        _ => {}
    }
    let fixed = Fixed::of(sheet);
    // A box whose outside is fixed asks for no volume, a port whose length is fixed for no tuning, unless one is typed.
    let asks_net = sheet.given(FieldId::WantedNet).is_some() || !fixed.all();
    let wanted = if asks_net { Some(wanted_net(sheet, load, air, filled)?) } else { None };
    let asks_tuning =
        sheet.given(FieldId::WantedTuning).is_some() || sheet.given(FieldId::PortLength).is_none();
    let tuning = if is_vented(sheet) && asks_tuning {
        wanted_tuning(sheet, wanted, load, air, filled).ok()
    } else {
        None
    };
    let space = space_for(sheet, &fixed)?;
    let mut spec = template(sheet, space, filled)?;
    if Kind::of(sheet) == Kind::PassiveRadiator {
        spec.form = boards::radiators(sheet, filled)?;
    }
    if is_test_box(sheet) {
        add_legs(sheet, driver, &mut spec, filled)?;
    }
    let space = spec.space;
    let tuning = match (tuning, wanted.or_else(|| fixed.gross(spec.boards.shell.thickness))) {
        (Some(tuning), Some(net)) if sheet.given(FieldId::WantedTuning).is_none() => {
            let tuning = within_depth(sheet, &spec, net, tuning, air)?;
            filled.insert(FieldId::WantedTuning, tuning.hertz());
            Some(tuning)
        }
        _ => tuning,
    };
    let request = fixed.request(wanted.unwrap_or(Volume::from_litres(1.0)), space);
    let found = if is_vented(sheet) {
        settle(sheet, &fixed, &request, spec, tuning, air, filled)?
    } else {
        fit_deep(&request, &spec)?
    };
    let Fit { spec, net, mut largest, fits: mut box_fits, .. } = found;
    if fixed.all() {
        box_fits = wanted.is_none_or(|wanted| net.litres() >= wanted.litres() * 0.98);
        largest = Some(net);
    }
    fill_outside(sheet, spec.outside, filled);
    let plan = plan(&spec, &built::sizes(sheet.built()))?;
    let port = plan.current().assembly.port.map(|port| {
        let acoustic = acoustic_port(&port, sheet, Which::Behind);
        let drivers = load.map_or(1, |load| load.wiring.drivers) as f64;
        let least = driver.and_then(|driver| Some((driver.driver.sd * drivers, driver.xmax?)));
        let tuning_as_cut = acoustic.tuning(plan.net(), air)?;
        Ok::<_, Gap>(PortReport {
            tuning: tuning_as_cut,
            wanted: tuning,
            length: port.length,
            area_m2: acoustic.opening.area().square_metres() * f64::from(port.count),
            least_area_m2: least.map(|(sd, xmax)| minimum_port_area(tuning_as_cut, sd, xmax).square_metres()),
        })
    });
    Ok(BoxReport {
        wanted,
        largest,
        fits: box_fits,
        outside: plan.current().assembly.outside,
        port: port.transpose()?,
        front_port: None,
        spec,
        plan: Rc::new(plan),
    })
}

/// A tuning that nobody asked for, raised to what a straight tube reaches that is as long as the space is deep, less its
/// own diameter before its inner end. Not for straight slots, whose section is that of the whole box; one that bends
/// finds its length along the back as well.
#[inline(never)] // not every box needs it: it may come after the first result
fn within_depth(sheet: &Sheet, spec: &BoxSpec, net: Volume, tuning: Frequency, air: &Air) -> Part<Frequency> {
    let depth = sheet.length(FieldId::BoxDepth).or_else(|| Some(spec.space?.usable().depth));
    let bent = if bent_leg(sheet).is_some() { bends(sheet) } else { 0 };
    let (Some(depth), true) = (depth, bent > 0 || sheet.choice_key(FieldId::PortShape) != "slot") else {
        return Ok(tuning);
    };
    let (width, height) = opening_size(sheet, spec)?;
    let longest = if bent > 0 {
        let high = sheet.length(FieldId::BoxHeight).or(spec.space.map(|space| space.usable().height));
        let size = [depth, high.unwrap_or_default()];
        let shaped = spec.profile.and_then(|_| shape::longest_slot(spec, size, (height, bent)));
        shaped.unwrap_or_else(|| longest_slot(spec, size, height, bent)) - spec.tape_step * 6
    } else {
        depth - height - spec.boards.shell.thickness - spec.tape_step * 2
    };
    let longest = longest.max(spec.front_thickness());
    let port = PortAsCut { length: longest, ..opening(bent > 0, port_count(sheet), width, height) };
    let lowest = acoustic_port(&port, sheet, Which::Behind).tuning(net, air)?;
    // Up to a whole hertz: nobody tunes finer, and the port stays a little shorter than the space.
    Ok(if lowest.hertz() > tuning.hertz() { Frequency::from_hertz(lowest.hertz().ceil()) } else { tuning })
}

/// Most rounds in which a port and its box are brought together.
const ROUNDS: usize = 8;

/// A box for the wanted net volume together with its port.
///
/// The port is as long as the tuning needs in that net volume, and a slot as wide as the box: a few rounds bring both
/// together. The net volume asked for stays; only where the space does not hold it is the port made for what fits.
#[inline(never)] // not every box needs it: it may come after the first result
fn settle(
    sheet: &Sheet,
    fixed: &Fixed,
    request: &FitRequest,
    spec: BoxSpec,
    tuning: Option<Frequency>,
    air: &Air,
    filled: &mut Filled,
) -> Part<Fit> {
    let mut own = filled.clone();
    let found = settle_as_deep(sheet, fixed, request, spec.clone(), tuning, air, &mut own)?;
    let lacks = fixed.depth.is_none() && slot_lacks_room(&found.spec);
    for eighths in [7, 6].into_iter().filter(|_| lacks) {
        // Too long to lie straight, too short to bend: in a box that is less deep it bends.
        let outside = found.spec.outside;
        let depth = ExactLength::from_eighth_micrometres(outside.depth.eighth_micrometres() / 8 * eighths);
        let less = request.as_deep_as(Dims { depth: depth.rounded_down_to(spec.tape_step), ..outside });
        let mut other = filled.clone();
        let bent = settle_as_deep(sheet, fixed, &less, spec.clone(), tuning, air, &mut other);
        if let Ok(bent) = bent
            && bent.fits
            && !slot_lacks_room(&bent.spec)
        {
            *filled = other;
            return Ok(bent);
        }
    }
    *filled = own;
    Ok(found)
}

/// The same, though the slot of a shaped box may come out too long to lie straight and too short to bend.
#[inline(never)] // not every box needs it: it may come after the first result
fn settle_as_deep(
    sheet: &Sheet,
    fixed: &Fixed,
    request: &FitRequest,
    mut spec: BoxSpec,
    tuning: Option<Frequency>,
    air: &Air,
    filled: &mut Filled,
) -> Part<Fit> {
    let start = fixed.gross(spec.boards.shell.thickness).unwrap_or(request.net);
    let mut net = start;
    let mut last = None;
    let mut deepest = Dims::default();
    if spec.profile.is_some() && bent_leg(sheet).is_some() && fixed.width.is_none() {
        spec.outside.width =
            width_to_begin_with(request, &spec, |spec| port(sheet, spec, net, tuning, air, filled))?;
    }
    for round in 0..ROUNDS {
        let next = port(sheet, &spec, net, tuning, air, filled)?;
        if last.is_some() && next == spec.port {
            break;
        }
        spec.port = next;
        // A wide box and a deep one may call for each other, as a slot is as wide as the box: then the deep one stays.
        let kept = (round > ROUNDS / 2 && may_bend(&spec)).then(|| request.as_deep_as(deepest));
        let found = fit_deep(kept.as_ref().unwrap_or(request), &spec)?;
        if found.spec.outside.depth > deepest.depth {
            deepest = found.spec.outside;
        }
        let before = (net, spec.outside);
        net = if fixed.all() || !found.fits { found.net } else { request.net };
        spec.outside = found.spec.outside;
        let settled = (net.litres() - before.0.litres()).abs() < 1e-4 && spec.outside == before.1;
        last = Some(found);
        if settled || sheet.given(FieldId::PortLength).is_some() && fixed.all() {
            break;
        }
    }
    last.ok_or(Gap::Waiting)
}

/// A width whose slot finds room in a shaped box, most of them as deep as the space: the slot of a wide one may be too long
/// for the narrow one that the volume needs.
#[inline(never)] // few boxes have such a slot: it may come after the first result
fn width_to_begin_with(
    request: &FitRequest,
    spec: &BoxSpec,
    mut port: impl FnMut(&BoxSpec) -> Part<Port>,
) -> Part<ExactLength> {
    let most = spec.space.map(|space| space.usable().width).unwrap_or_default();
    for quarters in (1..=4).rev() {
        let width = ExactLength::from_eighth_micrometres(most.eighth_micrometres() / 4 * quarters);
        let mut tried = BoxSpec { outside: Dims { width, ..spec.outside }, ..spec.clone() };
        tried.port = port(&tried)?;
        if fit_deep(request, &tried).is_ok() {
            return Ok(width);
        }
    }
    Ok(spec.outside.width)
}

/// The box with room for its driver and its port: shallow as the space suggests, or, where they then do not go in with
/// room behind them, as deep as they need and narrower instead.
#[inline(never)] // not every box needs it: it may come after the first result
pub(super) fn fit_deep(request: &FitRequest, spec: &BoxSpec) -> Part<Fit> {
    if spec.profile.is_some() {
        return shape::fit_shaped(request, spec);
    }
    let shallow = fit(request, spec);
    // Panels are rounded down to the tape, so the depth gets two steps more than is needed.
    let mut needed =
        if spec.is_plain() { port_depth(spec).max(driver_depth(spec)) } else { form_depth(spec) };
    if drivers_elsewhere(spec).is_some() {
        needed = elsewhere_depth(spec);
    }
    let (needed, bends) =
        if may_bend(spec) { bent_depth(spec, request.height, needed) } else { (needed, None) };
    let goes_in = shallow.as_ref().is_ok_and(|found| {
        let depth = found.spec.outside.depth;
        depth >= needed || bends.is_some_and(|least| depth >= least && bends_well(&found.spec))
    });
    let usable = spec.space.map(Space::usable);
    let (Some(usable), None, false) = (usable, request.depth, goes_in) else { return Ok(shallow?) };
    narrower(request, spec, shallow, (usable, needed))
}

/// The box as deep as driver and port need, where the shallow one is not.
#[inline(never)] // not every box needs it: it may come after the first result
fn narrower(
    request: &FitRequest,
    spec: &BoxSpec,
    shallow: Result<Fit, crate::model::error::ModelError>,
    (usable, needed): (Dims, ExactLength),
) -> Part<Fit> {
    let step = spec.tape_step;
    let depth = (needed + step * 2).rounded_down_to(step).min(usable.depth.rounded_down_to(step));
    let height = match (request.width, request.height) {
        (Some(_), None) => None,
        (_, height) => height.or(Some(usable.height.rounded_down_to(step))),
    };
    let deep = FitRequest { depth: Some(depth), height, ..request.clone() };
    let narrow = fit(&deep, spec);
    let least = front_least(spec, usable);
    let found = match &narrow {
        // Too narrow for the driver: as wide as it needs, and lower instead.
        Ok(found)
            if (request.width, request.height) == (None, None)
                && found.fits
                && found.spec.outside.width < least.width =>
        {
            let width = (least.width + step).rounded_down_to(step).min(usable.width.rounded_down_to(step));
            let low = fit(&FitRequest { width: Some(width), height: None, ..deep }, spec);
            if low.as_ref().is_ok_and(|low| low.spec.outside.height >= least.height) { low } else { narrow }
        }
        _ => narrow,
    };
    match (found, shallow) {
        (Ok(found), _) if found.fits => Ok(found),
        (_, Ok(found)) => Ok(found),
        (Ok(found), Err(_)) => Ok(found),
        (Err(_), Err(error)) => Err(error.into()),
    }
}

/// The smallest front that takes the flanges with wood for their screws, and the holes beside the strips; drivers stand
/// in a row across, or in a column where the space is high enough for them.
#[inline(never)] // not every box needs it: it may come after the first result
pub(super) fn front_least(spec: &BoxSpec, usable: Dims) -> Dims {
    let Some(driver) = spec.driver.as_ref().filter(|_| spec.divider().is_none()) else {
        return Dims::default();
    };
    if drivers_elsewhere(spec).is_some() {
        return elsewhere_least(spec);
    }
    let gap = driver.recess.map_or(ExactLength::ZERO, |recess| recess.clearance);
    // Strips that stand beside the hole, and those that lie above and below it.
    let strip = |along: Axis| {
        let strips = spec.strips.as_ref().filter(|it| it.edges.iter().any(|edge| edge.along == along));
        strips.map_or(ExactLength::ZERO, |strips| {
            let face = strips.wide_face(spec.boards.strips.thickness).millimetres();
            ExactLength::from_millimetres(face * FRAC_1_SQRT_2)
        })
    };
    let flange = driver.flange + gap + SCREW_EDGE;
    let count = i64::from(driver.count.max(1));
    let side = |count: i64, strip: ExactLength| {
        let behind = driver.cutout * count + (spec.boards.shell.thickness + strip) * 2;
        behind.max(flange * count + SCREW_EDGE)
    };
    let across = |count: i64| side(count, strip(Axis::Height));
    let up = |count: i64| side(count, strip(Axis::Width));
    let slot = match &spec.port {
        Port::Slot(slot) => {
            (slot.height + spec.boards.inner.thickness + spec.boards.shell.thickness)
                * if slot.bends > 1 { 2 } else { 1 }
        }
        _ => ExactLength::ZERO,
    };
    let column = up(count) + slot <= usable.height;
    let (width, height) = if column { (across(1), up(count)) } else { (across(count), up(1)) };
    if let Some(radiators) = spec.radiators().filter(|radiators| radiators.place == RadiatorPlace::Front) {
        return with_radiators(radiators, (flange, count), usable);
    }
    Dims { width, height: height + slot, depth: ExactLength::ZERO }
}

/// The drivers of a box that has some in other faces than the front.
fn drivers_elsewhere(spec: &BoxSpec) -> Option<&DriverCutout> {
    spec.driver.as_ref().filter(|driver| !driver.elsewhere.is_empty())
}

/// Outside depth that a box with drivers in several faces asks for: that of its port, and what they need.
#[inline(never)] // few boxes have any: it may come after the first result
fn elsewhere_depth(spec: &BoxSpec) -> ExactLength {
    port_depth(spec).max(elsewhere_least(spec).depth)
}

/// The smallest outside for drivers in several faces, and radiators: across each face their flanges in a row, along its axis
/// their bodies, those of two faces behind one another, and what a pole vent needs.
#[inline(never)] // few boxes have any: it may come after the first result
pub(crate) fn elsewhere_least(spec: &BoxSpec) -> Dims {
    let mut least = Dims::default();
    let Some(driver) = &spec.driver else { return least };
    let on = |face: Place| match face {
        FRONT => i64::from(driver.in_front()),
        face => driver.elsewhere.iter().filter(|&&other| other == face).count() as i64,
    };
    let gap = driver.pole_vent.map_or(spec.tape_step, |_| POLE_VENT_GAP);
    let flange = driver.flange + SCREW_EDGE;
    for axis in Axis::ALL {
        let ends = crate::model::geometry::End::BOTH.map(|end| on((axis, end)));
        let others = crate::model::geometry::End::BOTH.map(|end| spec.radiators_in((axis, end)));
        if ends == [0, 0] && others == [None, None] {
            continue;
        }
        let recess = if axis == Axis::Depth && ends[0] > 0 { spec.recess_depth() } else { ExactLength::ZERO };
        let body = |i: usize| {
            let own = if ends[i] > 0 { driver.depth } else { spec.boards.shell.thickness };
            others[i].map_or(own, |(_, it)| own.max(it.depth))
        };
        let along = recess + body(0) + gap + body(1);
        least = least.with(axis, least.get(axis).max(along));
        // In a row across, or where the space is higher than wide in a column.
        let row = |i: usize| {
            let beside = others[i]
                .map_or(ExactLength::ZERO, |(count, it)| (it.flange + SCREW_EDGE) * i64::from(count));
            flange * ends[i] + beside
        };
        let row = row(0).max(row(1));
        let wide = others.iter().flatten().map(|(_, it)| it.flange + SCREW_EDGE);
        let wide = wide.chain((ends != [0, 0]).then_some(flange)).max().unwrap_or_default();
        let [across, up] = axis.face();
        let column = spec.space.is_some_and(|space| {
            let usable = space.usable();
            usable.get(up) > usable.get(across)
        });
        for (direction, row) in
            [(across, if column { wide } else { row }), (up, if column { row } else { wide })]
        {
            // Boards that others cover are smaller by these.
            let shell = spec.boards.shell.thickness;
            let covered = match direction {
                _ if axis == Axis::Depth && ends[1] == 0 => ExactLength::ZERO,
                Axis::Depth => spec.front_thickness() + shell,
                _ => shell * 2,
            };
            let row = row + SCREW_EDGE + covered;
            least = least.with(direction, least.get(direction).max(row));
        }
    }
    least
}

/// The smallest front with passive radiators beside or below the drivers, all in one line.
#[inline(never)]
fn with_radiators(radiators: RadiatorCutout, (flange, count): (ExactLength, i64), usable: Dims) -> Dims {
    let other = radiators.flange + SCREW_EDGE;
    let line = flange * count + other * i64::from(radiators.count) + SCREW_EDGE;
    let side = flange.max(other) + SCREW_EDGE;
    let (width, height) = if line <= usable.height { (side, line) } else { (line, side) };
    Dims { width, height, depth: ExactLength::ZERO }
}

/// Outside depth that a box with radiators or a divider asks for.
#[inline(never)]
fn form_depth(spec: &BoxSpec) -> ExactLength {
    let walls = spec.front_thickness() + spec.boards.shell.thickness;
    match spec.form {
        Form::Radiators(radiators) => driver_depth(spec).max(match radiators.place {
            RadiatorPlace::Front => radiators.depth + spec.boards.shell.thickness,
            RadiatorPlace::Sides => radiators.flange + walls,
        }),
        Form::Divided(divider) => {
            let (long, clear) = match divider.port {
                ChamberPort::Tubes(tubes) => (tubes.length, tubes.diameter),
                ChamberPort::Slot(slot) => (slot.length, slot.height),
            };
            let own = long + clear + spec.boards.shell.thickness;
            let rear = if divider.inward { ExactLength::ZERO } else { port_depth(spec) };
            // A port in the divider lies beside the drivers.
            let beside = match &spec.port {
                Port::Round(port) if divider.inward => port.diameter + port.wall * 2 + SCREW_EDGE * 3,
                _ => ExactLength::ZERO,
            };
            let driver = spec.driver.as_ref();
            let driver = driver.map_or(ExactLength::ZERO, |driver| driver.flange + beside + walls);
            own.max(rear).max(driver)
        }
        Form::Plain | Form::Baffle => walls,
    }
}

/// Whether the box has a slot that may bend.
fn may_bend(spec: &BoxSpec) -> bool {
    matches!(&spec.port, Port::Slot(slot) if slot.bends > 0)
}

/// Depth for a slot that may bend: straight where the space allows it, and what the driver asks for before a leg up the
/// back.
#[inline(never)] // not every box needs it: it may come after the first result
fn bent_depth(
    spec: &BoxSpec,
    height: Option<ExactLength>,
    straight: ExactLength,
) -> (ExactLength, Option<ExactLength>) {
    let Port::Slot(slot) = &spec.port else { return (straight, None) };
    let before = driver_depth(spec) + slot.height + spec.boards.inner.thickness;
    let usable = spec.space.map(Space::usable);
    if usable.is_none_or(|usable| usable.depth >= straight) {
        return (straight, Some(before));
    }
    // What floor and top must give, as the back gives no more than the box is high: see `longest_slot`.
    let high =
        height.or(usable.map(|usable| usable.height)).unwrap_or_default() - spec.boards.shell.thickness * 2;
    let rest = slot.length - spec.front_thickness() - high;
    let deep = if slot.bends > 1 { (rest + slot.height * 3).halved() } else { rest + slot.height * 2 };
    let least = before.max(deep + spec.front_thickness() + spec.boards.shell.thickness);
    (least, Some(before))
}

/// The longest slot that finds its own height free before its inner end in a box of this outside depth and height
/// (geometry.md section 5: T + Di + t + Lv, and the same with a leg along the top).
#[inline(never)] // not every box needs it: it may come after the first result
fn longest_slot(
    spec: &BoxSpec,
    [depth, height]: [ExactLength; 2],
    slot: ExactLength,
    bends: u8,
) -> ExactLength {
    let front = spec.front_thickness();
    let deep = depth - front - spec.boards.shell.thickness;
    let high = height - spec.boards.shell.thickness * 2;
    front + if bends > 1 { deep * 2 + high - slot * 3 } else { deep + high - slot * 2 }
}

/// Outside depth that a port asks for: its length, its own height or diameter before its inner end, and the back.
fn port_depth(spec: &BoxSpec) -> ExactLength {
    match &spec.port {
        Port::None => ExactLength::ZERO,
        Port::Round(round) => round.length + round.diameter + spec.boards.shell.thickness,
        Port::Slot(slot) => slot.length + slot.height + spec.boards.shell.thickness,
    }
}

/// Outside depth that the driver asks for: recess, body, the gap a pole vent needs or the terminal cup, and the back.
pub(crate) fn driver_depth(spec: &BoxSpec) -> ExactLength {
    let Some(driver) = &spec.driver else { return ExactLength::ZERO };
    let vent = driver.pole_vent.map_or(ExactLength::ZERO, |_| POLE_VENT_GAP);
    let cup =
        spec.terminal.as_ref().map_or(ExactLength::ZERO, |hole| hole.cup_depth - spec.boards.shell.thickness);
    spec.recess_depth() + driver.depth + vent.max(cup) + spec.boards.shell.thickness
}

/// Outside sizes the user fixed.
pub(super) struct Fixed {
    width: Option<ExactLength>,
    height: Option<ExactLength>,
    depth: Option<ExactLength>,
}

impl Fixed {
    pub(super) fn of(sheet: &Sheet) -> Self {
        let given = |id| sheet.given(id).map(|entered| entered.exact_length());
        Self {
            width: given(FieldId::BoxWidth),
            height: given(FieldId::BoxHeight),
            depth: given(FieldId::BoxDepth),
        }
    }
    pub(super) const fn all(&self) -> bool {
        self.width.is_some() && self.height.is_some() && self.depth.is_some()
    }
    /// Roughly the inside of a box whose outside is fixed, to begin with.
    fn gross(&self, board: ExactLength) -> Option<Volume> {
        let inside =
            [self.width?, self.height?, self.depth?].map(|size| (size - board * 2).metres().max(0.02));
        Some(Volume::from_cubic_metres(inside.iter().product()))
    }
    pub(super) const fn request(&self, net: Volume, space: Option<Space>) -> FitRequest {
        FitRequest { net, space, width: self.width, height: self.height, depth: self.depth }
    }
}

/// The space a box goes into; none is needed where its whole outside is fixed.
pub(super) fn space_for(sheet: &Sheet, fixed: &Fixed) -> Part<Option<Space>> {
    look::check(sheet)?;
    let space = space(sheet);
    if space.is_none() && !fixed.all() {
        return Err(Gap::Missing(vec![
            vec![FieldId::SpaceWidth, FieldId::SpaceHeight, FieldId::SpaceDepth],
            vec![FieldId::BoxWidth, FieldId::BoxHeight, FieldId::BoxDepth],
        ]));
    }
    Ok(space)
}

/// Notes the outside sizes that were found and not entered.
pub(super) fn fill_outside(sheet: &Sheet, outside: Dims, filled: &mut Filled) {
    for (id, length) in [
        (FieldId::BoxWidth, outside.width),
        (FieldId::BoxHeight, outside.height),
        (FieldId::BoxDepth, outside.depth),
    ] {
        if sheet.given(id).is_none() {
            filled.insert(id, length.metres());
        }
    }
}

pub(crate) fn space(sheet: &Sheet) -> Option<Space> {
    let size = Dims {
        width: sheet.length(FieldId::SpaceWidth)?,
        height: sheet.length(FieldId::SpaceHeight)?,
        depth: sheet.length(FieldId::SpaceDepth)?,
    };
    let space = Space { size, clearance: sheet.length(FieldId::Clearance)?, slant: None };
    if sheet.choice(FieldId::Look) > 0 && Look::of(sheet) != Look::Along {
        return Some(look::turned_space(sheet, space));
    }
    let leans = sheet.given(FieldId::SpaceTopDepth).is_some() || is_measured(sheet);
    Some(if leans { shape::slanted(sheet, space) } else { space })
}

/// Holes for drivers: of a push-pull pair one driver sits in the hole, the other one on it.
pub(super) fn cutouts(sheet: &Sheet) -> u8 {
    match Kind::of(sheet) {
        Kind::PushPull => (super::wiring::drivers(sheet) / 2).max(1),
        _ => super::wiring::drivers(sheet),
    }
}

/// The step a tape shows, as chosen.
pub fn tape_step(sheet: &Sheet) -> ExactLength {
    match sheet.choice_key(FieldId::TapeStep) {
        "0.5 mm" => ExactLength::from_hundredths_mm(50),
        "1/16 in" => ExactLength::from_sixty_fourths_inch(4),
        "1/32 in" => ExactLength::from_sixty_fourths_inch(2),
        _ => ExactLength::from_hundredths_mm(100),
    }
}

/// Everything about the box but its outside and its port.
pub(crate) fn template(sheet: &Sheet, space: Option<Space>, filled: &mut Filled) -> Part<BoxSpec> {
    let mut spec = plain_spec(sheet, space, filled)?;
    spec.strips = strips(sheet)?;
    spec.terminal = terminal(sheet)?;
    braces(sheet, &mut spec)?;
    if sheet.has_any(&faces::ENTRIES) {
        faces::take_in(sheet, &mut spec);
    }
    if shape::is_shaped(sheet) {
        spec.profile = Some(shape::profile(sheet)?);
    }
    Ok(spec)
}

/// Board, front, drivers and space.
pub(super) fn plain_spec(sheet: &Sheet, space: Option<Space>, filled: &mut Filled) -> Part<BoxSpec> {
    let thickness = needed_length(sheet, FieldId::Board)?;
    let density_kg_m3 = sheet.si(FieldId::BoardDensity).unwrap_or(740.0);
    let mut spec = BoxSpec::plain(Dims::default(), Board { thickness, density_kg_m3, number: 0 });
    if sheet.has_any(&wood::ENTRIES) || sheet.has_any(&wood::EDGE_ENTRIES) {
        wood::take_in(sheet, &mut spec)?;
    }
    spec.front_layers = if sheet.choice_key(FieldId::FrontLayers) == "double" { 2 } else { 1 };
    spec.tape_step = tape_step(sheet);
    spec.kerf = needed_length(sheet, FieldId::Kerf)?;
    spec.space = space;
    spec.driver = Some(cutout(sheet, spec.front_layers, spec.boards.front[0].thickness, filled)?);
    Ok(spec)
}

/// What a driver's hole needs.
static NEEDED: [FieldId; 3] = [FieldId::CutOut, FieldId::OutsideDiameter, FieldId::MountingDepth];

#[inline(never)] // the first picture lacks nothing
fn lacking(sheet: &Sheet) -> Gap {
    Gap::Missing(vec![NEEDED.iter().copied().filter(|id| sheet.given(*id).is_none()).collect()])
}

fn cutout(sheet: &Sheet, layers: u8, board: ExactLength, filled: &mut Filled) -> Part<DriverCutout> {
    if NEEDED.iter().any(|id| sheet.given(*id).is_none()) {
        return Err(lacking(sheet));
    }
    let cutout = needed_length(sheet, FieldId::CutOut)?;
    // A magnet of two thirds of the hole is usual; common practice, no source.
    let magnet = sheet.length(FieldId::MagnetDiameter).unwrap_or_else(|| {
        let usual = ExactLength::from_millimetres(cutout.millimetres() * 2.0 / 3.0);
        filled.insert(FieldId::MagnetDiameter, usual.metres());
        usual
    });
    let displacement = sheet.si(FieldId::DriverDisplacement).unwrap_or_else(|| {
        filled.insert(FieldId::DriverDisplacement, 0.0);
        0.0
    });
    // Behind a single board a whole layer would leave no wood: half of it then.
    let depth = (layers == 1).then(|| board.halved());
    let flush = sheet.choice_key(FieldId::Recess) == "flush";
    Ok(DriverCutout {
        count: cutouts(sheet),
        cutout,
        flange: needed_length(sheet, FieldId::OutsideDiameter)?,
        depth: needed_length(sheet, FieldId::MountingDepth)?,
        magnet,
        displacement: Volume::from_cubic_metres(displacement),
        pole_vent: sheet.length(FieldId::PoleVent).filter(|vent| *vent > ExactLength::ZERO),
        recess: flush.then_some(Recess { depth, clearance: needed_length(sheet, FieldId::RecessGap)? }),
        centres: Vec::new(),
        elsewhere: Vec::new(),
    })
}

#[inline(never)] // not every box needs it: it may come after the first result
fn strips(sheet: &Sheet) -> Part<Option<CornerStrips>> {
    let edges = crate::design::strips::edges(sheet);
    if edges.is_empty() {
        return Ok(None);
    }
    Ok(Some(CornerStrips {
        edges,
        face: needed_length(sheet, FieldId::StripFace)?,
        measured: match sheet.choice_key(FieldId::StripMeasured) {
            "narrow" => MeasuredStripFace::Narrow,
            _ => MeasuredStripFace::Wide,
        },
        length: None,
        voids: if sheet.choice_key(FieldId::StripVoid) == "open" {
            StripVoids::Open
        } else {
            StripVoids::Sealed
        },
    }))
}

#[inline(never)] // not every box needs it: it may come after the first result
fn terminal(sheet: &Sheet) -> Part<Option<TerminalHole>> {
    let (Some(across), Some(up)) =
        (sheet.length(FieldId::TerminalWidth), sheet.length(FieldId::TerminalHeight))
    else {
        return Ok(None);
    };
    if across <= ExactLength::ZERO || up <= ExactLength::ZERO {
        return Ok(None);
    }
    let hole = Window { across, up, corner_radius: ExactLength::ZERO };
    let cup_depth = needed_length(sheet, FieldId::TerminalDepth)?;
    let shape = HoleShape::Rectangle(hole);
    Ok(Some(TerminalHole { face: BACK, window: None, shape, cup_depth, cup_volume: None, centre: None }))
}

/// Braces parallel to the sides, each a frame of the rim's width; windows follow from the space.
#[inline(never)] // not every box needs it: it may come after the first result
fn braces(sheet: &Sheet, spec: &mut BoxSpec) -> Part<()> {
    let count: u8 = sheet.choice_key(FieldId::Braces).parse().unwrap_or(0);
    if count == 0 && !sheet.has_any(&(FieldId::OwnAir..=FieldId::OwnAir)) {
        return Ok(());
    }
    frames(sheet, spec, count)
}

#[inline(never)] // few boxes have any: it may come after the first result
fn frames(sheet: &Sheet, spec: &mut BoxSpec, count: u8) -> Part<()> {
    if sheet.choice_key(FieldId::OwnAir) == "own" {
        spec.braces.push(WindowBrace::BETWEEN);
    }
    if count == 0 {
        return Ok(());
    }
    spec.brace_rim = Some(needed_length(sheet, FieldId::BraceRim)?);
    // As large as the rim leaves, and at least so.
    let least = ExactLength::from_hundredths_mm(2000);
    let window = Window { across: least, up: least, corner_radius: least.halved() };
    spec.braces.push(WindowBrace { count, across: Axis::Width, window });
    Ok(())
}

/// What each leg of a slot that may bend takes from the inside; `None` without one.
fn bent_leg(sheet: &Sheet) -> Option<ExactLength> {
    let may = is_vented(sheet) && is_slot(sheet) && bends(sheet) > 0;
    may.then(|| Some(sheet.length(FieldId::SlotHeight)? + sheet.length(FieldId::Board)?))?
}

/// The port's opening and its length: as given, or what the tuning needs in this net volume.
#[inline(never)] // not every box needs it: it may come after the first result
fn port(
    sheet: &Sheet,
    spec: &BoxSpec,
    net: Volume,
    tuning: Option<Frequency>,
    air: &Air,
    filled: &mut Filled,
) -> Part<Port> {
    let slot = sheet.choice_key(FieldId::PortShape) == "slot";
    let count = port_count(sheet);
    let (width, height) = opening_size(sheet, spec)?;
    let shape = opening(slot, count, width, height);
    let length = match sheet.given(FieldId::PortLength) {
        Some(length) => length.exact_length(),
        None => {
            let tuning = tuning.ok_or_else(|| missing(&[FieldId::WantedTuning]))?;
            let needed = acoustic_port(&shape, sheet, Which::Behind).length_for_tuning(tuning, net, air)?;
            // Where even a hole tunes lower, the shortest port is the front's own thickness.
            let least = spec.front_thickness();
            let length = needed.map_or(least, |l| ExactLength::from_millimetres(l.millimetres())).max(least);
            filled.insert(FieldId::PortLength, length.metres());
            length
        }
    };
    if slot {
        return Ok(Port::Slot(SlotPort { height, length, width: SlotWidth::Full, bends: bends(sheet) }));
    }
    let wall = needed_length(sheet, FieldId::PortWall)?;
    Ok(Port::Round(RoundPort { count, diameter: height, wall, length, centres: Vec::new() }))
}

/// How often a slot may bend.
#[inline(never)] // not every box needs it: it may come after the first result
fn bends(sheet: &Sheet) -> u8 {
    sheet.choice_key(FieldId::SlotBends).parse().unwrap_or(0)
}

/// Width and height of an opening; a slot is as wide as the box inside.
#[inline(never)] // not every box needs it: it may come after the first result
fn opening_size(sheet: &Sheet, spec: &BoxSpec) -> Part<(ExactLength, ExactLength)> {
    if sheet.choice_key(FieldId::PortShape) != "slot" {
        let diameter = needed_length(sheet, FieldId::PortDiameter)?;
        return Ok((diameter, diameter));
    }
    let walls = spec.boards.shell.thickness * 2;
    let outside = if spec.outside.width > walls { Some(spec.outside.width) } else { None };
    let outside =
        outside.or(sheet.length(FieldId::BoxWidth)).or(spec.space.map(|space| space.usable().width));
    Ok((outside.unwrap_or(walls * 2) - walls, needed_length(sheet, FieldId::SlotHeight)?))
}

/// How many openings; a slot is one.
pub(super) fn port_count(sheet: &Sheet) -> u8 {
    if is_slot(sheet) {
        return 1;
    }
    sheet.choice_key(FieldId::PortCount).parse().unwrap_or(1)
}

/// A port whose length is still to be found.
const fn opening(slot: bool, count: u8, width: ExactLength, height: ExactLength) -> PortAsCut {
    let none = ExactLength::ZERO;
    PortAsCut {
        count,
        height,
        width,
        round: !slot,
        length: none,
        inside_length: none,
        to_back: none,
        bends: 0,
    }
}

/// The port as the acoustics see it: its ends as chosen.
#[inline(never)] // not every box needs it: it may come after the first result
pub(super) fn acoustic_port(port: &PortAsCut, sheet: &Sheet, which: Which) -> acoustics::Port {
    let opening = if port.round {
        Opening::Round { diameter: port.height.to_length() }
    } else {
        Opening::Slot { width: port.width.to_length(), height: port.height.to_length() }
    };
    let (inner, outer) = ends(sheet, port.round, which);
    acoustics::Port {
        opening,
        length: port.length.to_length(),
        inner,
        outer,
        count: u32::from(port.count),
        qp: sheet.si(FieldId::PortLoss),
    }
}

/// A port for a box that is not planned yet: the opening as typed, as long as the tuning needs.
#[inline(never)] // not every box needs it: it may come after the first result
pub(super) fn planned_port(
    sheet: &Sheet,
    net: Volume,
    tuning: Frequency,
    air: &Air,
) -> Part<acoustics::Port> {
    let slot = is_slot(sheet);
    let id = if slot { FieldId::SlotHeight } else { FieldId::PortDiameter };
    let height = needed_length(sheet, id)?;
    let width = if slot { sheet.length(FieldId::BoxWidth).unwrap_or(height * 8) } else { height };
    let port = acoustic_port(&opening(slot, port_count(sheet), width, height), sheet, Which::Behind);
    let length = match sheet.given(FieldId::PortLength) {
        Some(length) => length.exact_length().to_length(),
        None => port.length_for_tuning(tuning, net, air)?.unwrap_or(Length::from_metres(0.0)),
    };
    Ok(acoustics::Port { length, ..port })
}
