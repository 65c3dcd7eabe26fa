//! Where the probes go at first power and along the feed: battery, main fuse, distribution, amplifier posts and the way
//! back, drawn from the feed's plan; the loudspeaker line as in the meter check.
use super::names;
use super::probe_drawing::{self, Anchor, Lead, ProbeDrawing, WIDTH};
use super::tables::{amperes, feed_in, size};
use super::wiring_drawing::{Segment, Wire};
use crate::design::commission::{Facts, Step};
use crate::design::document::Sheet;
use crate::design::limits::FieldId;
use crate::design::meter::Spot;
use crate::design::report::{MeasureKind, Report};
use crate::model::electrical::amplifier::Output;
use crate::model::electrical::tree::SegmentKind;
use crate::units::UnitPrefs;
use crate::words::{guide, power_drawing as words};

/// A drawing and the same in words, for those who can't see it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Picture {
    /// The drawing.
    pub drawing: ProbeDrawing,
    /// The words.
    pub words: String,
}

/// A place that a probe touches.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Point {
    BatteryPlus,
    BatteryMinus,
    /// The ground cable's end beside the post it was taken off.
    GroundEnd,
    FuseBattery,
    FuseFar,
    Distribution,
    /// The main cable's end, taken off the amplifier or on it.
    PlusEnd,
    /// The − cable's end, taken off the amplifier.
    MinusEnd,
    AmplifierPlus,
    AmplifierMinus,
    Body,
}

/// What sits in the main fuse's holder.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Holder {
    Fuse,
    Empty,
    Lamp,
}

/// A state of the feed, and what is read in it.
#[derive(Clone, Copy)]
struct Scene {
    holder: Holder,
    /// The battery's ground cable taken off.
    ground_off: bool,
    /// The + cable taken off the amplifier.
    plus_off: bool,
    /// The − cable taken off the amplifier.
    minus_off: bool,
    probes: Option<(Point, Point)>,
    meter: &'static str,
}

/// What the report says of the feed, as far as it is drawn; what it does not say is left out.
#[derive(Clone, Debug, Default, PartialEq)]
struct Plan {
    main_fuse: String,
    main_cable: String,
    /// Fuse of our own branch, where the feed is distributed.
    branch: Option<String>,
    body: bool,
    strapped: bool,
    bridged: bool,
}

impl Plan {
    fn of(report: &Report, facts: &Facts, prefs: &UnitPrefs) -> Self {
        let feed = report.feed.as_deref().ok();
        let output = feed.map(|feed| feed.amplifier.output()).unwrap_or_default();
        let main = feed.and_then(|feed| feed_in(feed, prefs).choice());
        let branch = feed.and_then(|feed| {
            let mut segments = feed.side(prefs.cable).segments.iter();
            segments.find(|segment| segment.kind == SegmentKind::Branch(0))
        });
        let rating = |segment: &crate::model::electrical::tree::Segment| {
            let fuse = segment.feed.choice().and_then(|option| option.fuse.as_ref().ok());
            fuse.map_or_else(String::new, |fuse| amperes(fuse.rating.amperes()))
        };
        Self {
            main_fuse: facts.fuse.map_or_else(String::new, |fuse| amperes(fuse.amperes())),
            main_cable: main.map_or_else(String::new, |option| size(option.cable.size)),
            branch: branch.map(rating),
            body: facts.body,
            strapped: output == Output::Strapped,
            bridged: output == Output::Bridged,
        }
    }
}

/// The pictures of a step, in the order of work; none where nothing is touched and nothing is to be found.
#[must_use]
pub fn step(step: Step, report: &Report, sheet: &Sheet, facts: &Facts, prefs: &UnitPrefs) -> Vec<Picture> {
    let plan = Plan::of(report, facts, prefs);
    let fuse_in = |probes, meter| Scene {
        holder: Holder::Fuse,
        ground_off: false,
        plus_off: false,
        minus_off: false,
        probes: Some(probes),
        meter,
    };
    let off = |plus_off, probes, meter| Scene {
        holder: Holder::Empty,
        ground_off: true,
        plus_off,
        minus_off: false,
        probes,
        meter,
    };
    let scene = match step {
        Step::GainLow | Step::Tone => return Vec::new(),
        Step::Load => return load(report, sheet).into_iter().collect(),
        Step::Ends => return ends(&plan, off(true, None, words::BUZZER)),
        Step::Polarity => return vec![cell()],
        Step::Offset => return vec![output(&plan, words::DC_MILLIVOLTS)],
        Step::Gain => return vec![output(&plan, words::AC_VOLTS)],
        Step::Route => Scene {
            holder: Holder::Fuse,
            ground_off: false,
            plus_off: false,
            minus_off: false,
            probes: None,
            meter: words::ROUTE,
        },
        Step::BatteryOff => off(false, None, words::BATTERY_OFF),
        Step::Insulation => off(true, Some((Point::PlusEnd, Point::Body)), words::KILOOHMS),
        Step::Lamp => Scene {
            holder: Holder::Lamp,
            ground_off: false,
            plus_off: false,
            minus_off: false,
            probes: None,
            meter: words::LAMP,
        },
        Step::Idle => Scene {
            holder: Holder::Empty,
            ground_off: false,
            plus_off: false,
            minus_off: false,
            probes: Some((Point::FuseBattery, Point::FuseFar)),
            meter: words::AMPERES,
        },
        Step::Supply | Step::Terminals => {
            fuse_in((Point::AmplifierPlus, Point::AmplifierMinus), words::DC_VOLTS)
        }
        Step::Back => fuse_in((Point::AmplifierMinus, Point::BatteryMinus), words::DC_VOLTS),
        Step::OverFuse => fuse_in((Point::FuseBattery, Point::FuseFar), words::DC_VOLTS),
    };
    vec![picture(&plan, scene)]
}

/// Both cables by the buzzer, both off the amplifier: plus to the fuse holder, minus to its far end or to the body.
fn ends(plan: &Plan, off: Scene) -> Vec<Picture> {
    let far = if plan.body { Point::Body } else { Point::GroundEnd };
    let checks =
        [(Point::PlusEnd, Point::FuseFar, words::BUZZER), (Point::MinusEnd, far, words::BUZZER_MINUS)];
    let scene = |(red, black, meter)| Scene { minus_off: true, probes: Some((red, black)), meter, ..off };
    checks.into_iter().map(|check| picture(plan, scene(check))).collect()
}

/// The picture of a place where the feed is proved.
#[must_use]
pub fn place(kind: MeasureKind, report: &Report, facts: &Facts, prefs: &UnitPrefs) -> Picture {
    let plan = Plan::of(report, facts, prefs);
    let main_end = if plan.branch.is_some() { Point::Distribution } else { Point::PlusEnd };
    let probes = match kind {
        MeasureKind::BatteryRest | MeasureKind::BatteryRunning => (Point::BatteryPlus, Point::BatteryMinus),
        MeasureKind::MainFuse => (Point::FuseBattery, Point::FuseFar),
        MeasureKind::MainPlus => (Point::BatteryPlus, main_end),
        MeasureKind::BranchPlus => (Point::Distribution, Point::AmplifierPlus),
        MeasureKind::Return => (Point::AmplifierMinus, Point::BatteryMinus),
        MeasureKind::AmplifierTerminals => (Point::AmplifierPlus, Point::AmplifierMinus),
        MeasureKind::Drain => (Point::GroundEnd, Point::BatteryMinus),
    };
    let drain = kind == MeasureKind::Drain;
    let meter = if drain { words::MILLIAMPERES } else { words::DC_VOLTS };
    let scene = Scene {
        holder: Holder::Fuse,
        ground_off: drain,
        plus_off: false,
        minus_off: false,
        probes: Some(probes),
        meter,
    };
    picture(&plan, scene)
}

/// The meter check's own picture of the line.
fn load(report: &Report, sheet: &Sheet) -> Option<Picture> {
    let wiring = report.wiring.as_deref().ok()?;
    let at_amplifier = sheet.choice_key(FieldId::ReadAt) == "amplifier end";
    let drawing = probe_drawing::draw(&wiring.chosen()?.tree, Spot::Line, at_amplifier);
    Some(Picture { drawing, words: probe_drawing::in_words(Spot::Line, at_amplifier) })
}

const HEIGHT: f64 = 206.0;
/// Height of everything at plus, and of everything at minus.
const PLUS_Y: f64 = 66.0;
const MINUS_Y: f64 = 126.0;
const BATTERY_X: f64 = 70.0;
const FUSE_X: [f64; 2] = [104.0, 156.0];
const SPLIT: [f64; 2] = [176.0, 198.0];
const AMPLIFIER_X: f64 = 240.0;
/// Where a cable ends that was taken off.
const LOOSE_X: f64 = 222.0;

impl Point {
    /// Where it is, and where the mark of the probe on it stands.
    const fn places(self) -> ([f64; 2], [f64; 2]) {
        match self {
            Self::BatteryPlus => ([BATTERY_X, PLUS_Y], [88.0, 22.0]),
            Self::BatteryMinus => ([BATTERY_X, MINUS_Y], [88.0, 160.0]),
            Self::GroundEnd => ([98.0, MINUS_Y], [122.0, 98.0]),
            Self::FuseBattery => ([FUSE_X[0], PLUS_Y], [FUSE_X[0], 102.0]),
            Self::FuseFar => ([FUSE_X[1], PLUS_Y], [FUSE_X[1], 102.0]),
            Self::Distribution => ([SPLIT[0], PLUS_Y], [170.0, 102.0]),
            Self::PlusEnd => ([LOOSE_X, PLUS_Y], [LOOSE_X, 102.0]),
            Self::MinusEnd => ([LOOSE_X, MINUS_Y], [LOOSE_X, 160.0]),
            Self::AmplifierPlus => ([AMPLIFIER_X, PLUS_Y], [212.0, 102.0]),
            Self::AmplifierMinus => ([AMPLIFIER_X, MINUS_Y], [212.0, 160.0]),
            Self::Body => ([150.0, 160.0], [118.0, 160.0]),
        }
    }

    const fn name(self) -> &'static str {
        match self {
            Self::BatteryPlus => words::AT_BATTERY_PLUS,
            Self::BatteryMinus => words::AT_BATTERY_MINUS,
            Self::GroundEnd => words::AT_GROUND_END,
            Self::FuseBattery => words::AT_FUSE_BATTERY,
            Self::FuseFar => words::AT_FUSE_FAR,
            Self::Distribution => words::AT_DISTRIBUTION,
            Self::PlusEnd => words::AT_PLUS_END,
            Self::MinusEnd => words::AT_MINUS_END,
            Self::AmplifierPlus => words::AT_AMPLIFIER_PLUS,
            Self::AmplifierMinus => words::AT_AMPLIFIER_MINUS,
            Self::Body => words::AT_BODY,
        }
    }
}

fn blank() -> ProbeDrawing {
    ProbeDrawing { size: [WIDTH, HEIGHT], ..ProbeDrawing::default() }
}

fn picture(plan: &Plan, scene: Scene) -> Picture {
    let mut drawing = blank();
    battery(&mut drawing, scene.ground_off);
    holder(&mut drawing, plan, scene.holder);
    plus_way(&mut drawing, plan, scene.plus_off);
    way_back(&mut drawing, plan, scene);
    amplifier(&mut drawing, if plan.strapped { words::FIRST_AMPLIFIER } else { words::AMPLIFIER });
    let mut said = vec![scene.meter.to_owned()];
    if let Some((red, black)) = scene.probes {
        if black == Point::Body {
            ground(&mut drawing, Point::Body.places().0);
            drawing.text([172.0, 165.0], Anchor::Start, words::BODY);
        }
        for (lead, point, name) in [(Lead::Red, red, guide::RED), (Lead::Black, black, guide::BLACK)] {
            let (at, mark) = point.places();
            drawing.terminals.push(at);
            drawing.touch(lead, mark, at);
            said.push(format!("{name}: {}", point.name()));
        }
        legend(&mut drawing);
    }
    drawing.text([WIDTH / 2.0, 18.0 - 4.0], Anchor::Middle, scene.meter);
    Picture { drawing, words: format!("{}.", said.join("; ")) }
}

fn legend(drawing: &mut ProbeDrawing) {
    drawing.text([8.0, HEIGHT - 6.0], Anchor::Start, guide::RED);
    drawing.text([WIDTH - 8.0, HEIGHT - 6.0], Anchor::End, guide::BLACK);
}

fn battery(drawing: &mut ProbeDrawing, ground_off: bool) {
    drawing.boxes.push([[10.0, 50.0], [BATTERY_X - 10.0, 92.0]]);
    drawing.text([40.0, 42.0], Anchor::Middle, words::BATTERY);
    for (y, sign) in [(PLUS_Y, "+"), (MINUS_Y, "−")] {
        drawing.terminals.push([BATTERY_X, y]);
        drawing.text([BATTERY_X - 13.0, y + 5.0], Anchor::Middle, sign);
    }
    if ground_off {
        drawing.text([84.0, MINUS_Y - 8.0], Anchor::Middle, words::OFF);
    }
}

/// The holder of the main fuse with what is in it: the fuse's wire, nothing, or a lamp's cross in a ring.
fn holder(drawing: &mut ProbeDrawing, plan: &Plan, holder: Holder) {
    let [left, right] = FUSE_X;
    drawing.wires.push(Segment { wire: Wire::Plus, ends: [[BATTERY_X, PLUS_Y], [left, PLUS_Y]] });
    drawing.boxes.push([[left - 6.0, PLUS_Y - 14.0], [right - left + 12.0, 28.0]]);
    drawing.terminals.extend([[left, PLUS_Y], [right, PLUS_Y]]);
    let middle = (left + right) / 2.0;
    let name = match holder {
        Holder::Fuse => words::fuse(&plan.main_fuse),
        Holder::Empty => words::FUSE_OUT.into(),
        Holder::Lamp => words::LAMP_SHORT.into(),
    };
    drawing.text([middle, 46.0], Anchor::Middle, &name);
    match holder {
        Holder::Fuse => drawing.strokes.push([[left, PLUS_Y], [right, PLUS_Y]]),
        Holder::Empty => {}
        Holder::Lamp => {
            let (y, r) = (102.0, 15.0);
            drawing.rings.push(([middle, y], r));
            let d = r / 2.0_f64.sqrt();
            drawing.strokes.push([[middle - d, y - d], [middle + d, y + d]]);
            drawing.strokes.push([[middle - d, y + d], [middle + d, y - d]]);
            drawing.strokes.push([[left, PLUS_Y], [middle - r, y]]);
            drawing.strokes.push([[right, PLUS_Y], [middle + r, y]]);
        }
    }
}

/// From the fuse over the distribution, where there is one, to the amplifier.
fn plus_way(drawing: &mut ProbeDrawing, plan: &Plan, plus_off: bool) {
    let end = if plus_off { LOOSE_X } else { AMPLIFIER_X };
    let wire = |from: f64, to: f64| Segment { wire: Wire::Plus, ends: [[from, PLUS_Y], [to, PLUS_Y]] };
    match &plan.branch {
        Some(fuse) => {
            drawing.wires.push(wire(FUSE_X[1], SPLIT[0]));
            drawing.boxes.push([[SPLIT[0], PLUS_Y - 14.0], [SPLIT[1] - SPLIT[0], 28.0]]);
            drawing.strokes.push([[SPLIT[0], PLUS_Y], [SPLIT[1], PLUS_Y]]);
            drawing.text([SPLIT[1], 46.0], Anchor::Middle, fuse);
            drawing.wires.push(wire(SPLIT[1], end));
        }
        None => drawing.wires.push(wire(FUSE_X[1], end)),
    }
    // The cable's size stands over its wire, where there is room for it.
    if !plan.main_cable.is_empty() && plan.branch.is_none() {
        drawing.text([200.0, 46.0], Anchor::Middle, &plan.main_cable);
    }
}

/// Back by cable, or by two ground points of the body.
fn way_back(drawing: &mut ProbeDrawing, plan: &Plan, scene: Scene) {
    let from = if scene.ground_off { 98.0 } else { BATTERY_X };
    let end = if scene.minus_off { LOOSE_X } else { AMPLIFIER_X };
    let wire = |from: f64, to: f64| Segment { wire: Wire::Minus, ends: [[from, MINUS_Y], [to, MINUS_Y]] };
    if plan.body {
        drawing.wires.extend([wire(from, 124.0), wire(196.0, end)]);
        ground(drawing, [124.0, MINUS_Y]);
        ground(drawing, [196.0, MINUS_Y]);
        drawing.text([160.0, MINUS_Y + 16.0], Anchor::Middle, words::BODY);
    } else {
        drawing.wires.push(wire(from, end));
    }
}

/// The sign for ground: three strokes that grow shorter.
fn ground(drawing: &mut ProbeDrawing, [x, y]: [f64; 2]) {
    for (down, half) in [(4.0, 10.0), (8.0, 6.5), (12.0, 3.0)] {
        drawing.strokes.push([[x - half, y + down], [x + half, y + down]]);
    }
    drawing.strokes.push([[x, y], [x, y + 4.0]]);
}

fn amplifier(drawing: &mut ProbeDrawing, name: &str) {
    drawing.boxes.push([[AMPLIFIER_X, 50.0], [WIDTH - 8.0 - AMPLIFIER_X, 92.0]]);
    drawing.text([WIDTH - 8.0, 42.0], Anchor::End, name);
    for (y, sign) in [(PLUS_Y, "+"), (MINUS_Y, "−")] {
        drawing.terminals.push([AMPLIFIER_X, y]);
        drawing.text([AMPLIFIER_X + 14.0, y + 5.0], Anchor::Middle, sign);
    }
}

/// The amplifier's output posts, the line's plug pulled.
fn output(plan: &Plan, meter: &str) -> Picture {
    let mut drawing = blank();
    drawing.text([WIDTH / 2.0, 14.0], Anchor::Middle, meter);
    drawing.boxes.push([[14.0, 50.0], [110.0, 92.0]]);
    drawing.text([14.0, 42.0], Anchor::Start, words::AMPLIFIER_OUTPUT);
    drawing.boxes.push([[276.0, 50.0], [40.0, 92.0]]);
    drawing.text([WIDTH - 14.0, 42.0], Anchor::End, words::PLUG_PULLED);
    let x = 124.0;
    let posts = [(PLUS_Y, Wire::Plus, Lead::Red, "+"), (MINUS_Y, Wire::Minus, Lead::Black, "−")];
    for (y, wire, lead, sign) in posts {
        drawing.terminals.extend([[x, y], [276.0, y]]);
        drawing.text([x - 16.0, y + 5.0], Anchor::Middle, sign);
        drawing.text([290.0, y + 5.0], Anchor::Middle, sign);
        drawing.wires.push(Segment { wire, ends: [[276.0, y], [240.0, y]] });
        drawing.touch(lead, [188.0, y], [x, y]);
    }
    let which = match plan {
        Plan { bridged: true, .. } => words::BRIDGED,
        Plan { strapped: true, .. } => words::STRAPPED,
        _ => "",
    };
    drawing.text([WIDTH / 2.0, 170.0], Anchor::Middle, which);
    legend(&mut drawing);
    let said = [
        meter.to_owned(),
        format!("{}: {}", guide::RED, words::AT_OUTPUT_PLUS),
        format!("{}: {}", guide::BLACK, words::AT_OUTPUT_MINUS),
    ];
    Picture { drawing, words: format!("{}; {}. {which}", said.join("; "), words::PLUG_PULLED) }
}

/// A small cell touched to the pulled plug of the line.
fn cell() -> Picture {
    let mut drawing = blank();
    drawing.boxes.extend([[[20.0, 50.0], [58.0, 92.0]], [[136.0, 50.0], [46.0, 92.0]]]);
    drawing.text([20.0, 42.0], Anchor::Start, words::CELL);
    drawing.text([136.0, 42.0], Anchor::Start, words::PLUG_PULLED);
    drawing.boxes.push([[240.0, 50.0], [82.0, 92.0]]);
    drawing.text([281.0, 101.0], Anchor::Middle, guide::TO_BOX);
    for (y, wire, sign) in [(PLUS_Y, Wire::Plus, "+"), (MINUS_Y, Wire::Minus, "−")] {
        drawing.terminals.extend([[78.0, y], [150.0, y]]);
        drawing.tips.push([[78.0, y], [150.0, y]]);
        drawing.text([64.0, y + 5.0], Anchor::Middle, sign);
        drawing.text([167.0, y + 5.0], Anchor::Middle, sign);
        drawing.wires.push(Segment { wire, ends: [[182.0, y], [240.0, y]] });
    }
    drawing.text([WIDTH / 2.0, 170.0], Anchor::Middle, words::CELL_HOW);
    Picture { drawing, words: format!("{}: {}.", words::CELL, words::CELL_HOW) }
}

/// The fuses and cables that the pictures show, in words: for the step at which the route is looked at.
#[must_use]
pub fn plan_in_words(report: &Report, prefs: &UnitPrefs) -> Vec<String> {
    let Ok(feed) = &report.feed else { return Vec::new() };
    let rows = feed.side(prefs.cable).segments.iter().filter_map(|segment| {
        let option = segment.feed.choice()?;
        let fuse = option.fuse.as_ref().ok()?;
        let name = names::segment(segment.kind);
        Some(words::plan_row(&name, &amperes(fuse.rating.amperes()), &size(option.cable.size)))
    });
    rows.collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    const SCENES: [Point; 11] = [
        Point::BatteryPlus,
        Point::BatteryMinus,
        Point::GroundEnd,
        Point::FuseBattery,
        Point::FuseFar,
        Point::Distribution,
        Point::PlusEnd,
        Point::MinusEnd,
        Point::AmplifierPlus,
        Point::AmplifierMinus,
        Point::Body,
    ];

    // Every pair of places: both marks inside the picture, apart from each other where they are asked for together.
    #[test]
    fn every_mark_is_inside_the_picture() {
        for point in SCENES {
            let ([x, y], [mx, my]) = point.places();
            assert!((0.0..=WIDTH).contains(&x) && (0.0..=HEIGHT - 24.0).contains(&y), "{point:?}");
            assert!((16.0..=WIDTH - 16.0).contains(&mx) && (16.0..=HEIGHT - 24.0).contains(&my), "{point:?}");
        }
    }
}
