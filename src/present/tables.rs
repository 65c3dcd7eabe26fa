//! Tables: ledger, cut list, fence order, wiring, feed. Strings, ready to show.
use super::format::{fixed, si};
use super::{meter, names};
use crate::design::built;
use crate::design::document::Sheet;
use crate::design::limits::FieldId;
use crate::design::report::{BoxReport, FeedReport, WiringOption, WiringReport};
use crate::model::electrical::amplifier::{PowerAtLoad, PowerBasis};
use crate::model::electrical::cable::Size;
use crate::model::electrical::feed::{Feed, FeedFailure, FeedOption};
use crate::model::electrical::wiring::{BalancedWiring, Polarity, Terminal, VersionChoice, apart, irregular};
use crate::model::geometry::{
    Batten, Dimension, Dims, Fact, FenceCut, FenceSetting, Form, Ledger, LedgerItem, MeasuredFace, Part,
    PartId, PartName, StandsOver, Stock, Tilt, battens, standing_over,
};
use crate::units::{CableUnit, ExactLength, Quantity, UnitPrefs, Volume};
use crate::words::{acoustics, car, name, table as words};

/// A row of the volume ledger.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LedgerRow {
    /// What it is.
    pub text: String,
    /// What it does to the air, with its sign.
    pub value: String,
    /// The sum.
    pub total: bool,
}

fn volume(v: Volume, prefs: &UnitPrefs) -> String {
    let unit = prefs.unit_for(Quantity::Volume);
    let number = unit.from_si(v.cubic_metres());
    let places = if unit.symbol() == "L" { 2 } else { 4 };
    let text = fixed(number.abs(), places);
    if number < 0.0 { format!("− {text}") } else { text }
}

/// The ledger of the box as it stands: gross, line by line, net.
#[must_use]
pub fn ledger(report: &BoxReport, prefs: &UnitPrefs) -> Vec<LedgerRow> {
    let build = report.plan.current();
    let inside = build.assembly.inside;
    let Some(front) = &build.front_room else {
        let mut rows = room(&build.ledger, inside, name::NET_USED, prefs);
        if build.assembly.hollow.is_some() {
            super::shape::within(&mut rows, inside, prefs);
        }
        return rows;
    };
    let width = report.spec.divider().map_or(inside.width, |divider| divider.room);
    let behind = Dims { width: inside.width - report.spec.before_cones(), ..inside };
    let mut rows = room(&build.ledger, behind, name::NET_BEHIND, prefs);
    rows.extend(room(front, Dims { width, ..inside }, name::NET_BEFORE, prefs));
    rows
}

/// The ledger of one room.
fn room(ledger: &Ledger, inside: Dims, net: &str, prefs: &UnitPrefs) -> Vec<LedgerRow> {
    let size = [inside.width, inside.height, inside.depth].map(|l| prefs.length_text(l)).join(" × ");
    let mut rows = vec![LedgerRow {
        text: format!("{}, {size}", names::ledger(LedgerItem::GrossInside)),
        value: volume(ledger.gross, prefs),
        total: false,
    }];
    for line in &ledger.lines {
        let count = if line.count > 1 { format!(" × {}", line.count) } else { String::new() };
        let plus = if line.volume.cubic_metres() > 0.0 { "+ " } else { "" };
        rows.push(LedgerRow {
            text: format!("{}{count}", names::ledger(line.item)),
            value: format!("{plus}{}", volume(line.volume, prefs)),
            total: false,
        });
    }
    rows.push(LedgerRow { text: net.into(), value: volume(ledger.net, prefs), total: true });
    rows
}

/// What is to be known about a box that is not one room with everything in its front.
#[must_use]
pub fn form_note(report: &BoxReport, sheet: &Sheet) -> Option<&'static str> {
    match report.spec.form {
        Form::Plain => (sheet.choice_key(FieldId::BoxKind) == "push-pull").then_some(words::PUSH_PULL_NOTE),
        Form::Radiators(_) => Some(words::RADIATORS_NOTE),
        Form::Divided(_) => Some(words::DIVIDED_NOTE),
        Form::Baffle => Some(acoustics::NO_BOX),
    }
}

/// What rounding to the tape, and cuts that came out differently, do to the net volume.
#[must_use]
pub fn ledger_notes(report: &BoxReport, prefs: &UnitPrefs) -> Vec<String> {
    let shift = |v: Volume| {
        let sign = if v.cubic_metres() < 0.0 { "−" } else { "+" };
        let text = volume(Volume::from_cubic_metres(v.cubic_metres().abs()), prefs);
        format!("{sign}{text}\u{a0}{}", prefs.unit_for(Quantity::Volume).symbol())
    };
    let mut notes = vec![words::rounding(&shift(report.plan.rounding_effect()))];
    if report.plan.as_built.is_some() {
        notes.push(words::as_built(&shift(report.plan.as_built_effect())));
    }
    notes
}

/// A row of the cut list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PartRow {
    /// Name and count.
    pub name: String,
    /// Length × width × thickness.
    pub size: String,
    /// Edges, and the face measured on.
    pub edges: String,
}

/// The cut list.
#[must_use]
pub fn parts(report: &BoxReport, prefs: &UnitPrefs) -> Vec<PartRow> {
    let shaped = report.spec.profile.is_some();
    let mut rows: Vec<PartRow> = report.plan.parts.iter().map(|part| part_row(part, shaped, prefs)).collect();
    if report.spec.loose.is_some() {
        rows.extend(batten_rows(report, prefs));
    }
    rows
}

/// What to trim flush after gluing: covers larger than the box, those that stand over alike together. Those that a warning
/// tells of are left out.
#[must_use]
#[inline(never)] // only the cut list tells it: it may come after the first result
pub fn trims(report: &BoxReport, prefs: &UnitPrefs) -> Vec<String> {
    let build = report.plan.current();
    let told = |found: &StandsOver| {
        build.assembly.misfits.iter().any(|fact| {
            matches!(fact, Fact::Cover { part, dimension, .. } if (*part, *dimension) == (found.part, found.dimension))
        })
    };
    let mut groups: Vec<(StandsOver, Vec<&str>)> = Vec::new();
    for found in standing_over(&report.spec, build).into_iter().filter(|found| !told(found)) {
        let name = names::part(found.part.name());
        let alike = |of: &StandsOver| (of.dimension, of.over) == (found.dimension, found.over);
        match groups.iter_mut().find(|(of, _)| alike(of)) {
            Some((_, all)) if all.contains(&name) => {}
            Some((_, all)) => all.push(name),
            None => groups.push((found, vec![name])),
        }
    }
    let say = |(found, all): (StandsOver, Vec<&str>)| {
        let more = match found.dimension {
            Dimension::Width => words::WIDER,
            Dimension::Depth => words::DEEPER,
            _ => words::HIGHER,
        };
        words::trim(&all.join(", "), &super::format::length(found.over, prefs).to_string(), more)
    };
    groups.into_iter().map(say).collect()
}

/// The battens of a board that comes off.
#[inline(never)] // few boxes have one: it may come after the first result
fn batten_rows(report: &BoxReport, prefs: &UnitPrefs) -> Vec<PartRow> {
    let row = |batten: Batten| {
        let [first, second] = batten.ends.map(degrees);
        let edges = match (batten.ends, batten.edge) {
            ([Tilt::SQUARE, Tilt::SQUARE], Tilt::SQUARE) => words::SQUARE.into(),
            (_, Tilt::SQUARE) => crate::words::faces::mitred_ends(&first, &second),
            (_, edge) => crate::words::faces::bevelled_edge(&degrees(edge)),
        };
        let size = [batten.length, batten.width, batten.thickness].map(|size| prefs.length_text(size));
        let name = format!("{} × {}", batten.count, names::part(PartName::Batten));
        PartRow { name, size: size.join(" × "), edges }
    };
    battens(&report.plan.current().assembly).into_iter().map(row).collect()
}

fn part_row(part: &Part, shaped: bool, prefs: &UnitPrefs) -> PartRow {
    let name = format!("{} × {}", part.count(), names::part(part.name));
    let text = |l| prefs.length_text(l);
    let size = match part.stock {
        Stock::Board => {
            format!("{} × {} × {}", text(part.length.planned), text(part.width.planned), text(part.thickness))
        }
        Stock::Tube { outer } => words::tube(&text(part.length.planned), &text(outer)),
    };
    let mut edges = Vec::new();
    if part.board > 0 {
        edges.push(crate::words::wood::which(part.board).into());
    }
    for cut in part.cuts() {
        if cut.tilt.degrees() > 0.0 {
            edges.push(words::bevel(names::dimension(cut.dimension), &degrees(cut.tilt)));
        }
        if cut.measured_on == MeasuredFace::Wide {
            edges.push(words::WIDE.into());
        }
        if cut.mitred {
            edges.push(words::MITRED.into());
        }
    }
    if part.shaped || !part.bevels.is_empty() || !part.oblique.is_empty() {
        super::shape::edges(part, &mut edges);
    }
    // Strips of a shaped box are of many lengths.
    if shaped && part.name == PartName::CornerStrip {
        edges.insert(0, super::shape::strip_places(part));
    }
    // A board beside the first says nothing about the edges.
    if edges.len() == usize::from(part.board > 0) {
        edges.push(words::SQUARE.into());
    }
    let edges = edges.join(", ");
    PartRow { name, size, edges }
}

/// One setting of the fence.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FenceRow {
    /// Fence distance.
    pub size: String,
    /// Unit and blade.
    pub blade: String,
    /// What the setting asks for beyond the fence.
    pub cares: Vec<String>,
    /// What is cut.
    pub cuts: Vec<CutRow>,
}

/// One line of pieces cut at a setting.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CutRow {
    /// Key of its tick.
    pub tick: String,
    /// What it is.
    pub name: String,
    /// Which size.
    pub dimension: &'static str,
    /// How many.
    pub count: usize,
    /// The size planned.
    pub planned: ExactLength,
    /// What the pieces came out at: all of them alike, and, of several, each by itself.
    pub sizes: Vec<CameOut>,
    /// What they came out at in short, if any was typed.
    pub came_out: Option<String>,
}

/// A size that may have come out differently.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CameOut {
    /// Of which pieces.
    pub name: String,
    /// Keys of the sizes.
    pub keys: Vec<String>,
    /// The number typed, in the reader's unit; `None` while as planned, or where several pieces differ.
    pub value: Option<String>,
}

/// The order at the saw.
#[must_use]
pub fn fence(report: &BoxReport, sheet: &Sheet, prefs: &UnitPrefs) -> Vec<FenceRow> {
    let saw = crate::design::cutting::saw(sheet);
    let settings = &report.plan.fence;
    let mixed = settings.windows(2).any(|pair| pair[0].board != pair[1].board);
    let unit = prefs.unit_for(Quantity::Length).symbol();
    let row = |setting: &FenceSetting| FenceRow {
        size: prefs.length_text(setting.size),
        blade: words::blade(unit, &degrees(setting.tilt)),
        cares: super::cutting::cares(setting, saw, &report.spec.boards, mixed, prefs),
        cuts: setting.cuts.iter().map(|cut| cut_row(cut, setting, sheet, prefs)).collect(),
    };
    report.plan.fence.iter().map(row).collect()
}

/// A tilt in whole degrees, or to a tenth where it is none: finer than a saw shows.
pub(super) fn degrees(tilt: Tilt) -> String {
    let degrees = tilt.degrees();
    fixed(degrees, usize::from((degrees - degrees.round()).abs() > 0.04))
}

fn cut_row(cut: &FenceCut, setting: &FenceSetting, sheet: &Sheet, prefs: &UnitPrefs) -> CutRow {
    let (sizes, came_out) = sizes(cut, sheet, prefs);
    // The size is part of the key: after a change of the box the old tick is no longer true.
    let first = cut.pieces.first().map_or(String::new(), |piece: &PartId| built::piece_key(*piece));
    CutRow {
        tick: format!(
            "cut {first} {} {}{}",
            names::dimension(cut.dimension),
            setting.size.eighth_micrometres(),
            cut.bevel.map_or("", |bevel| super::shape::end_key(bevel.end))
        ),
        name: match cut.bevel {
            Some(bevel) => super::shape::bevelled(cut.name, bevel),
            None => names::part(cut.name).to_owned(),
        },
        dimension: if cut.dimension == Dimension::Face {
            name::FACE
        } else {
            names::dimension(cut.dimension)
        },
        count: cut.pieces.len(),
        planned: setting.size,
        sizes,
        came_out,
    }
}

/// What a line of pieces came out at: to be typed for all and for each, and in short.
fn sizes(cut: &FenceCut, sheet: &Sheet, prefs: &UnitPrefs) -> (Vec<CameOut>, Option<String>) {
    let keys: Vec<String> = cut.pieces.iter().map(|piece| built::key(*piece, cut.dimension)).collect();
    let typed: Vec<Option<String>> = keys
        .iter()
        .map(|key| sheet.built().get(key).map(|size| prefs.length_text(size.exact_length())))
        .collect();
    let alike = typed.windows(2).all(|pair| pair[0] == pair[1]);
    let several = keys.len() > 1;
    let each = cut.pieces.iter().zip(keys.iter().zip(&typed)).filter(|_| several).enumerate();
    let each = each.map(|(number, (piece, (key, value)))| CameOut {
        name: names::piece(*piece).map_or_else(|| words::piece(number + 1), str::to_owned),
        keys: vec![key.clone()],
        value: value.clone(),
    });
    let mut sizes = vec![CameOut {
        name: if several { words::ALL_ALIKE } else { words::CAME_OUT_AT }.to_owned(),
        keys: keys.clone(),
        value: typed.first().cloned().flatten().filter(|_| alike),
    }];
    sizes.extend(each);
    let unit = prefs.unit_for(Quantity::Length).symbol();
    let short = match typed.iter().flatten().next() {
        Some(size) if alike => Some(format!("{size}\u{a0}{unit}")),
        Some(_) => Some(words::EACH_ITS_OWN.to_owned()),
        None => None,
    };
    (sizes, short)
}

/// A way to wire the coils.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WiringRow {
    /// The wiring as a short text, and what is stored.
    pub notation: String,
    /// In words.
    pub text: String,
    /// Nominal load.
    pub load: String,
    /// What a meter should read.
    pub reading: String,
    /// Power there.
    pub power: String,
    /// Power in one coil.
    pub share: String,
    /// Whether the amplifier is stable there.
    pub stable: bool,
}

/// The most voltage across a coil of a wiring, and the damping there: Qes with cable and amplifier's resistance.
#[must_use]
pub fn of_coil(option: &WiringOption, report: &WiringReport) -> String {
    let share = option.shares.iter().map(|share| share.voltage).fold(0.0, f64::max);
    let volts = match option.power {
        Some(power) => {
            let volts = (power.expected().watts() * option.nominal.ohms()).sqrt() * share;
            format!("{}\u{a0}V", fixed(volts, 1))
        }
        None => format!("{}\u{a0}%", fixed(100.0 * share, 0)),
    };
    let line = option.tree.figures(&report.coils).map_or(0.0, |figures| figures.dc.ohms());
    let damping = report.damping.filter(|_| line > 0.0 && option.equal_shares);
    let qes = damping.map(|found| fixed(found.qes * (1.0 + report.source.ohms() / line), 2));
    car::of_coil(&volts, qes.as_deref())
}

/// One wiring as a row.
#[must_use]
pub fn wiring(option: &WiringOption) -> WiringRow {
    let power = option.power.as_ref().map_or_else(|| super::format::NO_NUMBER.into(), power_text);
    let share = option.power.map_or_else(
        || format!("{}\u{a0}%", fixed(100.0 * option.coil_share, 0)),
        |power| {
            let watts = power.expected().watts() * option.coil_share;
            format!("{}\u{a0}W", fixed(watts, usize::from(watts < 9.95)))
        },
    );
    WiringRow {
        notation: option.notation.clone(),
        text: tree_text(option),
        load: format!("{}\u{a0}Ω", trimmed(option.nominal.ohms())),
        reading: format!(
            "{} to {}",
            fixed(option.reading_low.ohms(), 2),
            meter::ohms(Some(option.reading_high))
        ),
        power,
        share,
        stable: option.power.is_none_or(|power| power.stable),
    }
}

/// A wiring that shares equally beside the regular ones.
#[derive(Clone, Debug, PartialEq)]
pub struct FurtherWiring {
    /// How it is written.
    pub notation: String,
    /// Its load over the impedance of a coil.
    pub of_coil: f64,
}

/// Every wiring that shares equally beside the regular ones, those with a driver's coils apart last.
#[must_use]
pub fn further_wirings(drivers: u8, coils: u8) -> Vec<FurtherWiring> {
    let mut found = irregular(drivers, coils).unwrap_or_default();
    found.extend(apart(drivers, coils).unwrap_or_default());
    let one = |wiring: &BalancedWiring| FurtherWiring {
        notation: wiring.tree.to_string(),
        of_coil: f64::from(wiring.series_count) / f64::from(wiring.parallel_count),
    };
    found.iter().map(one).collect()
}

/// A load in ohms, without zeros at its end.
#[must_use]
pub fn further_load(ohm: f64) -> String {
    format!("{}\u{a0}Ω", trimmed(ohm))
}

/// What coils that take the same take.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ShareRow {
    /// The coils.
    pub coils: String,
    /// Power in each: watts where the amplifier is known, and the share.
    pub power: String,
    /// Voltage across each.
    pub voltage: String,
}

/// Each coil's share, alike ones in one row.
#[must_use]
pub fn shares(option: &WiringOption) -> Vec<ShareRow> {
    let watts = option.power.map(|power| power.expected().watts());
    let mut rows: Vec<(ShareRow, f64, f64)> = Vec::new();
    for share in &option.shares {
        let same = rows
            .iter_mut()
            .find(|(_, p, v)| (p - share.power).abs() < 1e-6 && (v - share.voltage).abs() < 1e-6);
        if let Some((row, ..)) = same {
            row.coils = [&row.coils, ", ", &share.coil.to_string()].concat();
            continue;
        }
        let percent = |part: f64| format!("{}\u{a0}%", fixed(100.0 * part, 0));
        let power = watts.map_or_else(
            || percent(share.power),
            |all| format!("{}\u{a0}W, {}", fixed(all * share.power, 0), percent(share.power)),
        );
        let volts = watts.map(|all| (all * option.nominal.ohms()).sqrt() * share.voltage);
        let voltage =
            volts.map_or_else(|| percent(share.voltage), |volts| format!("{}\u{a0}V", fixed(volts, 1)));
        let row = ShareRow { coils: share.coil.to_string(), power, voltage };
        rows.push((row, share.power, share.voltage));
    }
    rows.into_iter().map(|(row, ..)| row).collect()
}

/// A coil version that could be ordered.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OrderRow {
    /// Coils and their impedance.
    pub version: String,
    /// How to join them.
    pub wiring: String,
    /// The load that makes.
    pub load: String,
    /// All loads the version can make.
    pub loads: String,
    /// Power there.
    pub power: String,
    /// Whether the amplifier is stable there.
    pub stable: bool,
}

/// Coil versions, best first.
#[must_use]
pub fn orders(versions: &[VersionChoice]) -> Vec<OrderRow> {
    let row = |choice: &VersionChoice| {
        let loads: Vec<String> = choice.loads.iter().map(|load| trimmed(load.ohms())).collect();
        OrderRow {
            version: car::version(choice.version.coils, &trimmed(choice.version.nominal.ohms())),
            wiring: choice.tree.to_string(),
            load: format!("{}\u{a0}Ω", trimmed(choice.version.load.ohms())),
            loads: car::also(&loads.join(", ")),
            power: power_text(&choice.power),
            stable: choice.power.stable,
        }
    };
    versions.iter().map(row).collect()
}

fn trimmed(value: f64) -> String {
    let text = fixed(value, 2);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

fn tree_text(option: &WiringOption) -> String {
    match option.tree.balance() {
        Some((1, 1)) => words::ONE_COIL.into(),
        Some((_, 1)) => words::ALL_SERIES.into(),
        Some((1, _)) => words::ALL_PARALLEL.into(),
        Some((series, parallel)) => words::mixed(series, parallel, &option.notation),
        None => option.notation.clone(),
    }
}

/// Power at a load; a range is marked as not rated.
#[must_use]
pub fn power_text(power: &PowerAtLoad) -> String {
    let watts = |p: crate::units::Power| fixed(p.watts(), 0);
    match power.basis {
        PowerBasis::Rated => format!("{}\u{a0}W", watts(power.high)),
        PowerBasis::BetweenRated | PowerBasis::OutsideRated => {
            words::not_rated(&watts(power.low), &watts(power.high))
        }
    }
}

/// The steps that make a wiring, numbered.
#[must_use]
pub fn wiring_steps(option: &WiringOption) -> Vec<String> {
    let connections = option.tree.connections();
    let last = connections.nets.len().saturating_sub(1);
    connections
        .steps
        .iter()
        .map(|step| {
            let net = connections.nets.iter().position(|net| net.terminals.contains(&step.from)).unwrap_or(0);
            let line = if net == 0 {
                words::FULL_LINE
            } else if net == last {
                words::DASHED_LINE
            } else {
                words::CHAIN_LINE
            };
            words::step(line, &terminal(step.from), &terminal(step.to))
        })
        .collect()
}

/// A terminal in words.
#[must_use]
pub fn terminal(terminal: Terminal) -> String {
    match terminal {
        Terminal::LinePlus => words::AMPLIFIER_PLUS.into(),
        Terminal::LineMinus => words::AMPLIFIER_MINUS.into(),
        Terminal::Coil(id, Polarity::Plus) => words::coil_terminal(&id.to_string(), "+"),
        Terminal::Coil(id, Polarity::Minus) => words::coil_terminal(&id.to_string(), "−"),
    }
}

/// A cable size with its unit: the same gauge number is less metal in SAE vehicle cable than in AWG, so it says which.
#[must_use]
pub fn size(size: Size) -> String {
    match size {
        Size::Awg(_) => format!("{size}\u{a0}AWG"),
        Size::SaeVehicle(_) => format!("{size}\u{a0}SAE"),
        Size::Metric(_) => format!("{size}\u{a0}mm²"),
    }
}

/// The feed in the sizes the user reads.
#[must_use]
pub fn feed_in<'a>(report: &'a FeedReport, prefs: &UnitPrefs) -> &'a Feed {
    match prefs.cable {
        CableUnit::SquareMillimetres => &report.metric,
        CableUnit::Gauge => &report.gauge,
    }
}

/// A cable of the list: why it does or does not do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CableRow {
    /// Size.
    pub size: String,
    /// What it may carry.
    pub carries: String,
    /// Drop.
    pub drop: String,
    /// Fuse.
    pub fuse: String,
    /// Why not; empty where it does.
    pub why_not: String,
    /// The one recommended.
    pub chosen: bool,
}

/// Sizes around the one chosen.
#[must_use]
pub fn cables(feed: &Feed) -> Vec<CableRow> {
    // Where none does, around the first that keeps its voltage; the thickest five where not even those do.
    let keeps = || feed.options.iter().position(|o| !o.failures.contains(&FeedFailure::Drop));
    let last = feed.options.len().saturating_sub(1);
    let middle = feed.chosen.or_else(keeps).unwrap_or(last);
    let from = middle.saturating_sub(2).min(feed.options.len().saturating_sub(5));
    feed.options
        .iter()
        .enumerate()
        .skip(from)
        .take(5)
        .map(|(i, o)| cable_row(o, feed.chosen == Some(i)))
        .collect()
}

fn cable_row(option: &FeedOption, chosen: bool) -> CableRow {
    CableRow {
        size: size(option.cable.size),
        // Of another metal only resistance and drop are known.
        carries: if option.failures.contains(&FeedFailure::NoTable) {
            super::format::NO_NUMBER.into()
        } else {
            format!("{}\u{a0}A", fixed(option.ampacity.current.amperes(), 0))
        },
        drop: format!("{}\u{a0}%", fixed(option.drop_percent, 1)),
        fuse: option
            .fuse
            .as_ref()
            .map_or_else(|_| super::format::NO_NUMBER.into(), |fuse| amperes(fuse.rating.amperes())),
        why_not: option.failures.iter().map(|why| failure(*why)).collect::<Vec<_>>().join(", "),
        chosen,
    }
}

/// Why a size does not do, in words.
#[must_use]
pub const fn failure(failure: FeedFailure) -> &'static str {
    match failure {
        FeedFailure::Ampacity => words::NO_AMPACITY,
        FeedFailure::Drop => words::NO_DROP,
        FeedFailure::Fuse => words::NO_FUSE,
        FeedFailure::Short => words::NO_SHORT,
        FeedFailure::NoTable => words::NO_TABLE,
    }
}

/// Amperes with a decimal only where a fuse has one.
#[must_use]
pub fn amperes(value: f64) -> String {
    format!("{}\u{a0}A", fixed(value, usize::from(value.fract() > 0.01 && value < 20.0)))
}

/// A volume as shown elsewhere on the page.
#[must_use]
pub fn shown_volume(v: Volume, prefs: &UnitPrefs) -> String {
    si(v.cubic_metres(), Quantity::Volume, prefs).to_string()
}

/// Hours, or minutes below two of them.
#[must_use]
pub fn hours(value: f64) -> String {
    if value < 2.0 {
        format!("{}\u{a0}min", fixed(60.0 * value, 0))
    } else {
        format!("{}\u{a0}h", fixed(value, usize::from(value < 10.0)))
    }
}
