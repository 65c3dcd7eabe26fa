//! The main fuse: why this rating, which types, what a short does, how far from the battery.
use super::{Block, Row, amperes};
use crate::design::report::FeedReport;
use crate::model::electrical::Standing;
use crate::model::electrical::feed::Short;
use crate::model::electrical::fuse::{PLACEMENT_RULES, PlacementCondition, PlacementRule};
use crate::present::format::{fixed, si};
use crate::present::tables;
use crate::units::{Quantity, UnitPrefs};
use crate::words::feed as words;

pub(super) fn blocks(feed: &FeedReport, prefs: &UnitPrefs) -> Vec<Block> {
    let mut pairs = Vec::new();
    if let Some(option) = tables::feed_in(feed, prefs).choice() {
        if let Ok(fuse) = &option.fuse {
            pairs.push((words::RATING, tables::amperes(fuse.rating.amperes())));
            let types: Vec<&str> = fuse.offers.iter().map(|offer| offer.family.standard()).collect();
            let breaks = option.short.is_none_or(|short| short.interrupts);
            pairs.push((if breaks { words::TYPES } else { words::TYPES_TOO_WEAK }, types.join(", ")));
        }
        pairs.push((words::CEILING, amperes(option.regulatory_ceiling.amperes())));
        if let Some(short) = option.short {
            pairs.push((words::AT_FUSE, amperes(short.at_fuse.amperes())));
            pairs.push((
                words::FAR_END,
                words::far_end(&amperes(short.far_end.amperes()), &fixed(short.over_rating, 1)),
            ));
            pairs.push((words::OPENS, opens(&short)));
        }
    }
    vec![
        Block::Pairs(pairs),
        Block::Text(words::FUSE_WHY.into()),
        Block::Table {
            heads: &words::PLACE_HEADS,
            rows: PLACEMENT_RULES.iter().map(|rule| place(rule, prefs)).collect(),
        },
        Block::Caution(words::FUSE_CAUTION),
    ]
}

fn opens(short: &Short) -> String {
    let Some(time) = short.opens_within else { return words::NO_POINTS.into() };
    let seconds = fixed(time.as_secs_f64(), usize::from(time.subsec_millis() > 0));
    words::opens(&seconds, short.standing == Standing::Verified)
}

fn place(rule: &PlacementRule, prefs: &UnitPrefs) -> Row {
    let when = match rule.condition {
        PlacementCondition::Default => words::PLACE_DEFAULT,
        PlacementCondition::IfImpractical => words::PLACE_IMPRACTICAL,
        PlacementCondition::Sheathed => words::PLACE_SHEATHED,
        PlacementCondition::FromBattery => words::PLACE_BATTERY,
        PlacementCondition::ToChargingSource => words::PLACE_CHARGING,
    };
    let known = match rule.standing {
        Standing::Verified => "",
        Standing::CommonPractice => words::NO_SOURCE,
        _ => words::PARTLY,
    };
    let clause = if rule.clause.is_empty() { words::CUSTOM } else { rule.clause };
    let distance = rule.max_distance.map_or(words::PLACE_CLOSE.into(), |distance| {
        if distance.metres() > 0.0 {
            si(distance.metres(), Quantity::Length, prefs).to_string()
        } else {
            words::PLACE_AT_SOURCE.into()
        }
    });
    Row { header: (clause.into(), known.into()), cells: vec![(distance, when.into())] }
}
