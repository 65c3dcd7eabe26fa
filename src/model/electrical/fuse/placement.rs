//! How far from the source a fuse may sit, rule by rule.
use crate::model::electrical::Standing;
use crate::units::Length;

/// When a placement rule applies.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum PlacementCondition {
    /// Always: the place to aim for.
    Default,
    /// Only if the place itself is physically impractical.
    IfImpractical,
    /// Only if the conductor is in a sheath or enclosure over its whole length up to the device.
    Sheathed,
    /// For a conductor that starts at a battery.
    FromBattery,
    /// For the conductor to a battery charger or alternator that does not limit its own current.
    ToChargingSource,
}

/// One rule, distances measured along the conductor from the source.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlacementRule {
    /// The clause, or empty for custom.
    pub clause: &'static str,
    /// The greatest distance, or `None` for "as close as practical".
    pub max_distance: Option<Length>,
    /// When it applies.
    pub condition: PlacementCondition,
    /// How well it is known.
    pub standing: Standing,
}

const fn rule(
    clause: &'static str,
    max_mm: f64,
    condition: PlacementCondition,
    standing: Standing,
) -> PlacementRule {
    PlacementRule { clause, max_distance: Some(Length::from_millimetres(max_mm)), condition, standing }
}

/// Published placement rules, and last the custom of the car trade. None of them is a car regulation.
///
/// The 1829 mm (72 in) of 33 CFR 183.460 is corroborated by secondary texts which disagree on whether a sheath is
/// needed; its clause text is from memory. The 450 mm (about 18 in) is common practice, no source.
pub const PLACEMENT_RULES: [PlacementRule; 10] = [
    rule("33 CFR 183.455(b)", 0.0, PlacementCondition::Default, Standing::Verified),
    rule("33 CFR 183.455(b)(1)", 178.0, PlacementCondition::IfImpractical, Standing::Verified),
    rule("33 CFR 183.455(b)(2)", 1016.0, PlacementCondition::Sheathed, Standing::Verified),
    rule("33 CFR 183.460(a)", 1829.0, PlacementCondition::FromBattery, Standing::Partly),
    rule("ISO 13590", 180.0, PlacementCondition::Default, Standing::Verified),
    rule("ISO 13590", 500.0, PlacementCondition::Sheathed, Standing::Verified),
    rule("ISO 13590", 900.0, PlacementCondition::FromBattery, Standing::Verified),
    rule("ISO 13297 12.3", 1800.0, PlacementCondition::ToChargingSource, Standing::Verified),
    PlacementRule {
        clause: "TMC RP 111C",
        max_distance: None,
        condition: PlacementCondition::Default,
        standing: Standing::Verified,
    },
    rule("", 450.0, PlacementCondition::FromBattery, Standing::CommonPractice),
];
