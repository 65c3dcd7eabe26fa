//! The shape of the sides as entered, the room a leaning limit leaves, and the size of a shaped box.
use super::enclosure::front_least;
use super::{missing, needed_length};
use crate::design::document::Sheet;
use crate::design::limits::FieldId;
use crate::design::report::{Gap, Part};
use crate::design::space::{is_measured, side_stations, vehicle};
use crate::model::geometry::space::measure;
use crate::model::geometry::spec::Slant;
use crate::model::geometry::{
    AsBuilt, Back, BackJoint, BoxSpec, Dims, Divider, End, Fact, Fit, FitRequest, Form, Port, Profile,
    RadiatorPlace, SlotPort, SlotWidth, Space, Verdict, fit, longest_bent, plan,
};
use crate::units::{ExactLength, Length};
use std::borrow::Cow;

/// Whether the sides are no rectangles.
pub(crate) fn is_shaped(sheet: &Sheet) -> bool {
    sheet.choice(FieldId::Shape) != 0
}

/// Whether the back leans forward.
fn leans(sheet: &Sheet) -> bool {
    matches!(sheet.choice_key(FieldId::Shape), "slanted back" | "both slanted")
}

/// The sides as entered. A back whose depth at the top is not entered leans as the space does.
#[inline(never)] // only shaped boxes need it: it may come after the first result
pub(super) fn profile(sheet: &Sheet) -> Part<Profile> {
    let setback = match sheet.choice_key(FieldId::Shape) {
        "slanted front" | "both slanted" => needed_length(sheet, FieldId::FrontSetback)?,
        _ => ExactLength::ZERO,
    };
    let step = |shallow| -> Part<Back> {
        let (height, depth) = (sheet.length(FieldId::StepHeight), sheet.length(FieldId::StepDepth));
        let (Some(height), Some(depth)) = (height, depth) else {
            let wanted = [(FieldId::StepHeight, height), (FieldId::StepDepth, depth)];
            let lacking: Vec<FieldId> =
                wanted.iter().filter(|(_, size)| size.is_none()).map(|(id, _)| *id).collect();
            return Err(missing(&lacking));
        };
        Ok(Back::Step { height, depth, shallow })
    };
    let back = match sheet.choice_key(FieldId::Shape) {
        "step above" => step(End::High)?,
        "step below" => step(End::Low)?,
        _ if !leans(sheet) => Back::Upright,
        _ => match (sheet.length(FieldId::TopDepth), slant(sheet)) {
            (Some(depth), _) => Back::TopDepth(depth),
            (None, Some(slant)) => Back::Slope { run: slant.depth - slant.top_depth, rise: slant.height },
            (None, None) => {
                return Err(Gap::Missing(vec![vec![FieldId::TopDepth], vec![FieldId::SpaceTopDepth]]));
            }
        },
    };
    let joint = |id| match sheet.choice_key(id) {
        "between" => BackJoint::Between,
        _ => BackJoint::Over,
    };
    Ok(Profile { setback, back, joint: joint(FieldId::BackJoint), front: joint(FieldId::FrontJoint) })
}

/// The leaning limit of the space, if it has one: by its depth at the top, by stations on its side, or by an angle gauge.
fn slant(sheet: &Sheet) -> Option<Slant> {
    let (depth, height) = (sheet.length(FieldId::SpaceDepth)?, sheet.length(FieldId::SpaceHeight)?);
    let (deep, up) = (depth.millimetres(), height.millimetres());
    let mm = ExactLength::from_millimetres;
    let [depth, top_depth] = if let Some(top) = sheet.length(FieldId::SpaceTopDepth) {
        [depth, top]
    } else if let Some(Ok(stations)) = side_stations(sheet) {
        measure::leaning(&stations, deep, up)?.map(mm)
    } else {
        [depth, mm(measure::reclined(deep, up, sheet.si(FieldId::SeatRecline)?))]
    };
    (top_depth < depth).then_some(Slant { depth, top_depth, height })
}

/// A space with its leaning limit: as deep as a box may be at its foot that is as high as the space or as entered, and
/// leans as the limit does, or is as deep at its top as at its foot.
#[inline(never)] // only leaning spaces need it: it may come after the first result
pub(super) fn slanted(sheet: &Sheet, mut space: Space) -> Space {
    let slant = slant(sheet);
    if is_measured(sheet)
        && let Some(vehicle) = vehicle(sheet)
    {
        space.size = vehicle.clear(slant.is_some());
    }
    let Some(slant) = slant else { return space };
    let [deep, top, up, gap] =
        [slant.depth, slant.top_depth, slant.height, space.clearance].map(ExactLength::millimetres);
    let lean = (deep - top) / up.max(1e-6);
    let high = match sheet.choice_key(FieldId::Shape) {
        // The limit is nearest to the foot of a back that leans as much.
        "slanted back" | "both slanted" | "step above" => 0.0,
        _ => sheet.length(FieldId::BoxHeight).unwrap_or(space.usable().height).millimetres(),
    };
    // Square to the limit as much air as at the other faces; front and floor keep theirs, too.
    let free = deep - gap - (high + gap) * lean - gap * lean.hypot(1.0);
    let free = ExactLength::from_millimetres(free.max(0.0)) + space.clearance * 2;
    space.size.depth = space.size.depth.min(free);
    space.slant = Some(slant);
    space
}

/// A shaped box for a volume. Where the depth at the top or at a step is a number, the other depth is that of the space
/// and the width follows from the volume. Otherwise it is shallow as the space suggests, or, where its driver or its port
/// then find no room, as deep as the space and narrower instead.
#[inline(never)] // only shaped boxes need it: it may come after the first result
pub(super) fn fit_shaped(request: &FitRequest, spec: &BoxSpec) -> Part<Fit> {
    let usable = spec.space.map(Space::usable);
    let (Some(usable), None) = (usable, request.depth) else { return Ok(fit(request, spec)?) };
    let step = spec.tape_step;
    let deep = FitRequest {
        depth: Some(usable.depth.rounded_down_to(step)),
        height: match request.width {
            Some(_) => request.height,
            None => request.height.or(Some(usable.height.rounded_down_to(step))),
        },
        ..request.clone()
    };
    let profile = spec.profile.as_ref();
    if profile.is_some_and(|profile| matches!(profile.back, Back::TopDepth(_) | Back::Step { .. })) {
        return wide_enough(request, deep, spec, usable);
    }
    let shallow = fit(request, spec);
    let doubts = |found: &Fit| {
        let planned = plan(&with_rooms(&found.spec), &AsBuilt::new());
        let crowded = |fact: &&Fact| crowded(&found.spec, fact);
        planned.map_or(usize::MAX, |plan| plan.facts.iter().filter(crowded).count())
    };
    let before = shallow.as_ref().map_or(usize::MAX, doubts);
    if before == 0 {
        return Ok(shallow?);
    }
    match (fit(&deep, spec), shallow) {
        (Ok(found), _) if found.fits && doubts(&found) < before => Ok(found),
        (_, Ok(found)) | (Ok(found), Err(_)) => Ok(found),
        (Err(_), Err(error)) => Err(error.into()),
    }
}

/// The box as deep as asked, or, where it then is too narrow for what is in its front, as wide as that and lower instead.
#[inline(never)] // only shaped boxes need it: it may come after the first result
fn wide_enough(request: &FitRequest, deep: FitRequest, spec: &BoxSpec, usable: Dims) -> Part<Fit> {
    let found = fit(&deep, spec)?;
    let least = front_least(spec, usable);
    let narrow = found.spec.outside.width < least.width;
    if !narrow || !found.fits || request.width.is_some() || request.height.is_some() {
        return Ok(found);
    }
    let step = spec.tape_step;
    let width = (least.width + step).rounded_down_to(step).min(usable.width.rounded_down_to(step));
    match fit(&FitRequest { width: Some(width), height: None, ..deep }, spec) {
        Ok(low) if low.fits && low.spec.outside.height >= least.height => Ok(low),
        _ => Ok(found),
    }
}

/// Depth of a shaped box of so much depth and height at a share of its height: of a step the lesser.
#[inline(never)] // only shaped boxes need it: it may come after the first result
pub(super) fn depth_at(spec: &BoxSpec, [depth, height]: [Length; 2], share: f64) -> Length {
    let Some(profile) = &spec.profile else { return depth };
    let setback = profile.setback.metres();
    let (whole, high) = (depth.metres(), height.metres());
    let back = match profile.back {
        Back::Upright => whole,
        Back::TopDepth(top) => whole + (setback + top.metres() - whole) * share,
        Back::Slope { run, rise } => whole - run.metres() / rise.metres().max(1e-3) * high * share,
        Back::Step { depth: less, shallow, .. } if shallow == End::Low || share > 0.0 => {
            whole.min(less.metres())
        }
        Back::Step { .. } => whole,
    };
    Length::from_metres((back - setback * share).max(0.0))
}

/// A divided box whose divider has not found its place yet, with a third of the inside before it: what its depth is asked
/// for does not depend on that.
fn with_rooms(spec: &BoxSpec) -> Cow<'_, BoxSpec> {
    let Some(divider) = spec.divider() else { return Cow::Borrowed(spec) };
    let inside = spec.outside.width - spec.boards.shell.thickness * 2;
    let room = ExactLength::from_eighth_micrometres(inside.eighth_micrometres() / 3);
    Cow::Owned(BoxSpec { form: Form::Divided(Divider { room, ..divider }), ..spec.clone() })
}

/// The longest slot, of so much height and so many bends, in a shaped box of this outside depth and height; nothing where
/// there is no such box.
#[inline(never)] // only shaped boxes need it: it may come after the first result
pub(super) fn longest_slot(
    spec: &BoxSpec,
    [depth, height]: [ExactLength; 2],
    (slot, bends): (ExactLength, u8),
) -> Option<ExactLength> {
    let width = spec.boards.shell.thickness * 4;
    let length = spec.front_thickness();
    let port = Port::Slot(SlotPort { height: slot, length, width: SlotWidth::Full, bends });
    let spec = BoxSpec { outside: Dims { width, height, depth }, port, ..spec.clone() };
    longest_bent(&spec, bends)
}

/// Whether a fact says that a box is too shallow for what is in it.
fn crowded(spec: &BoxSpec, fact: &Fact) -> bool {
    let place = spec.radiators().map(|radiators| radiators.place);
    let depth = match fact {
        Fact::MagnetToBack { .. } | Fact::PoleVent { .. } | Fact::Overlap { .. } => spec.divider().is_none(),
        Fact::PortToBack { .. } => true,
        Fact::RadiatorBehind { .. } => place == Some(RadiatorPlace::Front),
        // Beside a driver in a side.
        Fact::RadiatorToFlange { .. } => place == Some(RadiatorPlace::Sides),
        // In a side or a divider, whose polygon is as deep as the box.
        Fact::RadiatorToEdge { .. } | Fact::RadiatorToWall { .. } => place == Some(RadiatorPlace::Sides),
        Fact::FlangeToEdge { .. } | Fact::FlangeToPort { .. } | Fact::CutoutToWall { .. } => {
            spec.divider().is_some()
        }
        _ => false,
    };
    depth && fact.verdict() != Verdict::Fine
}
