//! The smallest cable that carries a load, keeps its voltage, and can be fused.
mod short;

pub use short::{PROMPT, Short, ShortSource};

use super::cable::{Ampacity, Cable, Insulation, Material, SizeSystem, ampacity};
use super::check::{current_a, supply_v, within};
use super::fuse::{self, FuseChoice, FuseFamily, NoFuse};
use crate::model::error::ModelError;
use crate::units::{Current, Length, Resistance, Temperature, Voltage};

/// How the current comes back.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ReturnPath {
    /// Through a second cable of the same size and length.
    SameCable,
    /// Through the vehicle's body, whose resistance (joints included) is measured or assumed.
    Body(Resistance),
}

/// What a feed has to do.
#[derive(Clone, Debug, PartialEq)]
pub struct FeedRequest {
    /// Continuous worst-case current.
    pub load: Current,
    /// Voltage at the source.
    pub supply: Voltage,
    /// Length of the route, one way.
    pub one_way: Length,
    /// How the current comes back.
    pub return_path: ReturnPath,
    /// Largest drop out and back, in percent of the supply.
    pub allowed_drop_percent: f64,
    /// Metal of the cable.
    pub material: Material,
    /// The list of sizes to choose from.
    pub system: SizeSystem,
    /// Rating of the insulation.
    pub insulation: Insulation,
    /// Air around the hottest stretch of the cable.
    pub ambient: Temperature,
    /// Families of fuse that can be had.
    pub families: Vec<FuseFamily>,
    /// What drives a short circuit; without it, opening and breaking are not judged.
    pub short: Option<ShortSource>,
}

/// Why a size does not do.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum FeedFailure {
    /// It may carry less than the load.
    Ampacity,
    /// It loses more voltage than allowed.
    Drop,
    /// No standard fuse lies between load and ampacity.
    Fuse,
    /// A short at the far end brings too little current to open the least fuse that carries the load.
    Short,
    /// No ampacity table covers the metal, so nothing says which fuse protects it.
    NoTable,
}

/// One size, with everything that speaks for or against it.
#[derive(Clone, Debug, PartialEq)]
pub struct FeedOption {
    /// The cable.
    pub cable: Cable,
    /// What it may carry.
    pub ampacity: Ampacity,
    /// Conductor temperature at the load: Ta + (Ti − Ta)·(I/Iz)², at most Ti.
    pub conductor: Temperature,
    /// Resistance out and back at that temperature.
    pub loop_resistance: Resistance,
    /// Voltage lost out and back.
    pub drop: Voltage,
    /// The same in percent of the supply.
    pub drop_percent: f64,
    /// The fuse for it, or why there is none.
    pub fuse: Result<FuseChoice, NoFuse>,
    /// The most that 33 CFR 183.455 would allow; for information.
    pub regulatory_ceiling: Current,
    /// Short circuits, if their source is known.
    pub short: Option<Short>,
    /// Empty where the size does.
    pub failures: Vec<FeedFailure>,
}

impl FeedOption {
    /// Whether the size satisfies every rule.
    #[must_use]
    pub fn passes(&self) -> bool {
        self.failures.is_empty()
    }
}

/// A feed worked out.
#[derive(Clone, Debug, PartialEq)]
pub struct Feed {
    /// Every size of the system, thinnest first.
    pub options: Vec<FeedOption>,
    /// Where in `options` the smallest size that does stands; `None` where no size does.
    pub chosen: Option<usize>,
}

impl Feed {
    /// The smallest size that satisfies every rule.
    #[must_use]
    pub fn choice(&self) -> Option<&FeedOption> {
        self.options.get(self.chosen?)
    }
}

/// Judges every size of the system for the load.
///
/// Voltage drop is taken at the conductor temperature that the load causes, by the same law of heating as the
/// derating for ambient. Copper-clad aluminium and aluminium are outside the ampacity table: their sizes get resistance
/// and drop, but none is chosen and no fuse is named.
///
/// # Errors
/// [`ModelError::OutOfRange`] for a load outside 1 mA to 100 kA, a supply outside 1 V to 1000 V, a length outside 0 m
/// to 500 m, a body resistance outside 0 Ω to 100 Ω, an allowed drop outside 0.0001 % to 50 % or an ambient outside
/// −60 °C to 200 °C.
pub fn feed(request: &FeedRequest) -> Result<Feed, ModelError> {
    current_a("load in amperes", request.load.amperes())?;
    supply_v("supply in volts", request.supply.volts())?;
    within("cable length in metres", request.one_way.metres(), 0.0, 500.0)?;
    within("allowed voltage drop in percent", request.allowed_drop_percent, 1e-4, 50.0)?;
    within("ambient temperature in °C", request.ambient.celsius(), -60.0, 200.0)?;
    if let ReturnPath::Body(resistance) = request.return_path {
        within("resistance of the body in ohms", resistance.ohms(), 0.0, 100.0)?;
    }
    let sizes = request.system.sizes().into_iter();
    let options = sizes
        .map(|size| judge(request, Cable { material: request.material, size }))
        .collect::<Result<Vec<_>, _>>()?;
    let chosen = options.iter().position(FeedOption::passes);
    Ok(Feed { options, chosen })
}

fn judge(request: &FeedRequest, cable: Cable) -> Result<FeedOption, ModelError> {
    let ampacity = ampacity(cable, request.insulation, request.ambient)?;
    let conductor = conductor_temperature(request, ampacity.current);
    let loop_resistance = loop_at(request, cable, conductor)?;
    let drop_v = loop_resistance.ohms() * request.load.amperes();
    let drop_percent = 100.0 * drop_v / request.supply.volts();
    let in_table = cable.material == Material::Copper;
    // Without a table nothing says what the cable stands, and no fuse is named for it.
    let stands = if in_table { ampacity.current } else { Current::from_amperes(0.0) };
    let cold = loop_at(request, cable, Temperature::from_celsius(20.0))?;
    let (fuse, short) = short::fuse(request, stands, cold)?;
    let checks = [
        (!in_table, FeedFailure::NoTable),
        (in_table && ampacity.current.amperes() < request.load.amperes(), FeedFailure::Ampacity),
        (drop_percent > request.allowed_drop_percent, FeedFailure::Drop),
        (matches!(fuse, Err(NoFuse::ShortTooWeak { .. })), FeedFailure::Short),
        (
            in_table
                && matches!(
                    fuse,
                    Err(NoFuse::CableBelowLoad | NoFuse::NoneBetween { .. } | NoFuse::NoneForLoad)
                ),
            FeedFailure::Fuse,
        ),
    ];
    Ok(FeedOption {
        cable,
        ampacity,
        conductor,
        loop_resistance,
        drop: Voltage::from_volts(drop_v),
        drop_percent,
        fuse,
        regulatory_ceiling: fuse::regulatory_ceiling(ampacity.current, request.supply),
        short,
        failures: checks.into_iter().filter_map(|(fails, why)| fails.then_some(why)).collect(),
    })
}

/// Resistance out and back with the conductor at a temperature.
fn loop_at(request: &FeedRequest, cable: Cable, conductor: Temperature) -> Result<Resistance, ModelError> {
    match request.return_path {
        ReturnPath::SameCable => cable.resistance(request.one_way * 2.0, conductor),
        ReturnPath::Body(body) => Ok(cable.resistance(request.one_way, conductor)? + body),
    }
}

fn conductor_temperature(request: &FeedRequest, ampacity: Current) -> Temperature {
    let (air, limit) = (request.ambient.celsius(), request.insulation.rating().celsius());
    if ampacity.amperes() <= request.load.amperes() {
        return Temperature::from_celsius(limit.max(air));
    }
    let load = request.load.amperes() / ampacity.amperes();
    Temperature::from_celsius(air + (limit - air) * load * load)
}
