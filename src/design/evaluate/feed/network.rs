//! The feed in one list of sizes: its tree, and the points at which source and amplifier agree.
use super::{measure, supply_voltage};
use crate::design::document::Sheet;
use crate::design::limits::FieldId;
use crate::design::report::{FeedSide, Operation, Part, SupplyReport};
use crate::model::electrical::amplifier::{Amplifier, Output, SupplyDraw};
use crate::model::electrical::cable::{Insulation, Material, SizeSystem};
use crate::model::electrical::feed::{FeedRequest, ReturnPath};
use crate::model::electrical::fuse::FuseFamily;
use crate::model::electrical::supply::{NoPoint, Source, operate};
use crate::model::electrical::tree::{Consumer, Segment, SegmentKind, Stretch, TreeRequest, segment, tree};
use crate::model::error::ModelError;
use crate::units::{Current, Length, Power, Resistance, Temperature, Voltage};

/// What both lists of sizes share.
pub(super) struct Site<'a> {
    pub sheet: &'a Sheet,
    pub amplifier: &'a Amplifier,
    pub nominal: Resistance,
    pub draw: SupplyDraw,
    pub supply: &'a SupplyReport,
}

impl Site<'_> {
    fn number(&self, id: FieldId) -> f64 {
        self.sheet.si(id).unwrap_or(0.0)
    }
    fn stretch(&self, run: FieldId, ambient: FieldId) -> Stretch {
        Stretch {
            one_way: Length::from_metres(self.number(run)),
            ambient: Temperature::from_celsius(self.number(ambient)),
            insulation: None,
        }
    }
    /// Voltage with the engine running.
    pub fn running_voltage(&self) -> Voltage {
        running_voltage(self.sheet)
    }
    /// Each amplifier on the feed: ours first, two halves where two are strapped, then the others.
    fn amplifiers(&self) -> Vec<Consumer> {
        let own = match self.amplifier.output() {
            Output::Strapped => vec![part(self.draw, 0.5); 2],
            _ => vec![self.draw],
        };
        let branch = Stretch {
            one_way: Length::from_metres(self.number(FieldId::BranchRun)),
            ambient: Temperature::from_celsius(branch_celsius(self.sheet)),
            insulation: insulation(self.sheet, FieldId::BranchInsulation),
        };
        let mut all: Vec<Consumer> = own.into_iter().map(|draw| Consumer { draw, branch }).collect();
        for Other { amperes, run, ambient, insulation } in others(self.sheet) {
            let share = self.draw.music_share;
            let worst_case = Current::from_amperes(amperes);
            let draw = SupplyDraw { worst_case, average: worst_case * share, music_share: share };
            let one_way = run.map_or(branch.one_way, Length::from_metres);
            let ambient = ambient.map_or(branch.ambient, Temperature::from_celsius);
            all.push(Consumer { draw, branch: Stretch { one_way, ambient, insulation } });
        }
        all
    }
    /// What everything else on the feed draws at its worst.
    fn others(&self) -> Current {
        Current::from_amperes(others(self.sheet).map(|other| other.amperes).sum())
    }
    /// What the alternator or converter has left for the amplifiers when driving; `None` while its rating is not entered, or
    /// where a second battery stands between.
    fn alternator_left(&self) -> Option<Current> {
        let rating = self.sheet.si(FieldId::AlternatorRating)?;
        let own = self.number(FieldId::ExistingLoad);
        self.supply.second.is_none().then(|| Current::from_amperes((rating - own).max(0.0)))
    }
    /// Whether everything together draws more than that.
    fn wants_more_than(&self, left: Current, point: &Option<Operation>) -> bool {
        match point {
            Some(Ok(point)) => point.current * self.parts() + self.others() > left,
            Some(Err(_)) | None => true,
        }
    }
    /// How much of the first branch's current one amplifier's input is.
    fn parts(&self) -> f64 {
        self.amplifier.output().amplifiers()
    }
}

/// Another amplifier as entered; `None` where its branch is as ours, or its insulation as the main cable's.
pub(in crate::design) struct Other {
    /// At its worst.
    pub amperes: f64,
    /// Metres from the distribution.
    pub run: Option<f64>,
    ambient: Option<f64>,
    insulation: Option<Insulation>,
}

/// Every other amplifier that is entered.
pub(in crate::design) fn others(sheet: &Sheet) -> impl Iterator<Item = Other> + '_ {
    use FieldId as F;
    let entries = [
        (F::OtherDraw, F::OtherRun, F::OtherAmbient, F::OtherInsulation),
        (F::SecondOtherDraw, F::SecondOtherRun, F::SecondOtherAmbient, F::SecondOtherInsulation),
        (F::ThirdOtherDraw, F::ThirdOtherRun, F::ThirdOtherAmbient, F::ThirdOtherInsulation),
    ];
    entries.into_iter().filter_map(|(draw, run, ambient, rating)| {
        Some(Other {
            amperes: sheet.si(draw)?,
            run: sheet.si(run),
            ambient: sheet.si(ambient),
            insulation: insulation(sheet, rating),
        })
    })
}

/// How warm the branch's place is, in °C; as warm as the main run's warmest where nothing is entered.
pub(super) fn branch_celsius(sheet: &Sheet) -> f64 {
    sheet.si(FieldId::BranchAmbient).or_else(|| sheet.si(FieldId::Ambient)).unwrap_or(0.0)
}

/// The rating chosen; `None`: as the main cable's.
fn insulation(sheet: &Sheet, id: FieldId) -> Option<Insulation> {
    Some(match sheet.choice_key(id) {
        "60 C" => Insulation::C60,
        "75 C" => Insulation::C75,
        "80 C" => Insulation::C80,
        "90 C" => Insulation::C90,
        "105 C" => Insulation::C105,
        "125 C" => Insulation::C125,
        "200 C" => Insulation::C200,
        "unknown" => Insulation::Unknown,
        _ => return None,
    })
}

/// Voltage with the engine running: a varying alternator may leave the battery at rest (12.5 V, from memory).
pub(super) fn running_voltage(sheet: &Sheet) -> Voltage {
    let supply = supply_voltage(sheet);
    match sheet.choice_key(FieldId::Charging) {
        "smart" => Voltage::from_volts(supply.volts().min(12.5)),
        _ => supply,
    }
}

/// How the current comes back.
pub(super) fn return_path(sheet: &Sheet) -> ReturnPath {
    match sheet.choice_key(FieldId::ReturnVia) {
        "body" => {
            ReturnPath::Body(Resistance::from_ohms(1e-3 * sheet.si(FieldId::BodyMilliohm).unwrap_or(0.0)))
        }
        _ => ReturnPath::SameCable,
    }
}

fn part(draw: SupplyDraw, share: f64) -> SupplyDraw {
    SupplyDraw { worst_case: draw.worst_case * share, average: draw.average * share, ..draw }
}

/// The feed in the sizes of `system`.
pub(super) fn side(site: &Site<'_>, system: SizeSystem) -> Part<FeedSide> {
    let request = request(site, system);
    let found = tree(&request)?;
    let before = found.shared_and_own(0);
    let source = |emf: Voltage, battery: Resistance| {
        let (shared, own) = before?;
        let shared = battery + shared;
        // What everything else on the feed draws is lost already where our own current begins.
        let left = emf.volts() - shared.ohms() * site.others().amperes();
        Some(Source { emf: Voltage::from_volts(left), resistance: shared * site.parts() + own })
    };
    let battery = site.supply.source;
    let held = settle(site, source(site.running_voltage(), Resistance::from_ohms(0.0)))?;
    let helped = match site.alternator_left().filter(|left| site.wants_more_than(*left, &held.0)) {
        // What the alternator does not bring comes out of the battery: U = E − R·(I − left).
        Some(left) => {
            let emf = battery.emf.volts() + battery.resistance.ohms() * left.amperes();
            Some(settle(site, source(Voltage::from_volts(emf), battery.resistance))?)
        }
        None => None,
    };
    let battery_helps = helped.is_some();
    let (running, running_power) = helped.unwrap_or(held);
    let (resting, resting_power) = settle(site, source(battery.emf, battery.resistance))?;
    let drop_percent = found.drop_percent(0);
    let mut segments = found.segments;
    segments.extend(link(site, &request)?);
    segments.extend(charge(site, &request)?);
    let mut side = FeedSide {
        segments,
        drop_percent,
        running,
        resting,
        battery_helps,
        running_power,
        resting_power,
        measure: Vec::new(),
    };
    side.measure = measure::list(site, &side);
    Ok(side)
}

fn request(site: &Site<'_>, system: SizeSystem) -> TreeRequest {
    let sheet = site.sheet;
    TreeRequest {
        supply: supply_voltage(sheet),
        return_path: return_path(sheet),
        allowed_drop_percent: 100.0 * sheet.si(FieldId::DropLimit).unwrap_or(0.03),
        material: match sheet.choice_key(FieldId::CableMaterial) {
            "copper" => Material::Copper,
            _ => Material::CopperCladAluminium,
        },
        system,
        insulation: insulation(sheet, FieldId::Insulation).unwrap_or(Insulation::C75),
        main: site.stretch(FieldId::CableRun, FieldId::Ambient),
        amplifiers: site.amplifiers(),
        short: site.supply.short,
        families: FuseFamily::ALL.to_vec(),
    }
}

/// Where the other consumers leave less than this, ours does not run at all.
const LEAST_SOURCE_V: f64 = 2.0;

type Settled = (Option<Operation>, Option<Power>);

/// The operating point of one amplifier behind a source, and the power out of all its parts there.
fn settle(site: &Site<'_>, source: Option<Source>) -> Result<Settled, ModelError> {
    let Some(source) = source else { return Ok((None, None)) };
    if source.emf.volts() < LEAST_SOURCE_V {
        let wanted = site.amplifier.power_at(site.nominal, site.running_voltage() * 0.5)?.expected();
        let wanted = Power::from_watts(wanted.watts() / site.amplifier.efficiency() / site.parts());
        let most = if source.emf.volts() > 0.0 { source.most_power() } else { None };
        return Ok((Some(Err(NoPoint { most: most.unwrap_or(Power::from_watts(0.0)), wanted })), None));
    }
    let (amplifier, nominal, parts) = (site.amplifier, site.nominal, site.parts());
    let out = |voltage: Voltage| Ok(amplifier.power_at(nominal, voltage)?.expected());
    let demand = |voltage: Voltage| -> Result<Power, ModelError> {
        let watts = out(voltage)?.watts();
        Ok(Power::from_watts(watts / amplifier.efficiency() / parts))
    };
    let point = operate(source, &demand)?;
    let power = point.as_ref().ok().map(|point| out(point.voltage)).transpose()?;
    Ok((Some(point), power))
}

/// A cable that is no part of the way from battery to amplifier, with the tree's metal and insulation.
fn apart(request: &TreeRequest, load: Current, stretch: Stretch) -> FeedRequest {
    FeedRequest {
        load,
        supply: request.supply,
        one_way: stretch.one_way,
        return_path: match request.return_path {
            ReturnPath::SameCable => ReturnPath::SameCable,
            // Both batteries and the alternator sit on the body by straps of their own.
            ReturnPath::Body(_) => ReturnPath::Body(Resistance::from_ohms(0.0)),
        },
        allowed_drop_percent: request.allowed_drop_percent,
        material: request.material,
        system: request.system,
        insulation: request.insulation,
        ambient: stretch.ambient,
        families: request.families.clone(),
        short: Some(request.short),
    }
}

fn steady(load: Current) -> SupplyDraw {
    SupplyDraw { worst_case: load, average: load, music_share: 1.0 }
}

/// From starter battery to second battery: fused at both ends, for either can feed a short.
fn link(site: &Site<'_>, request: &TreeRequest) -> Result<Option<Segment>, ModelError> {
    let Some(second) = site.supply.second else { return Ok(None) };
    if site.sheet.si(FieldId::SecondRun).is_none() {
        return Ok(None);
    }
    let stretch = site.stretch(FieldId::SecondRun, FieldId::Ambient);
    // An isolator passes whatever the alternator can give, and for minutes what evens the batteries out.
    let alternator = site.number(FieldId::AlternatorRating);
    let isolator = second.equalising.map_or(0.0, Current::amperes).max(alternator);
    let load = second.charger_input.unwrap_or(Current::from_amperes(isolator));
    segment(SegmentKind::Link, steady(load), 2, &apart(request, load, stretch)).map(Some)
}

/// A new cable from the alternator to the battery: fused at the battery, which feeds a short in it.
fn charge(site: &Site<'_>, request: &TreeRequest) -> Result<Option<Segment>, ModelError> {
    let (Some(rating), Some(_)) =
        (site.sheet.si(FieldId::AlternatorRating), site.sheet.si(FieldId::AlternatorRun))
    else {
        return Ok(None);
    };
    let stretch = site.stretch(FieldId::AlternatorRun, FieldId::EngineAmbient);
    let load = Current::from_amperes(rating);
    segment(SegmentKind::Charge, steady(load), 1, &apart(request, load, stretch)).map(Some)
}
