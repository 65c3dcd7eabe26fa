//! The amplifier's ratings, the gain, real power in the box, the loudspeaker cable.
use super::{Block, Row, amperes, percent, watts};
use crate::design::document::Sheet;
use crate::design::limits::FieldId;
use crate::design::report::{FeedReport, GainLimit, PowerAt};
use crate::present::figures::hertz;
use crate::present::format::fixed;
use crate::present::tables;
use crate::units::Frequency;
use crate::words::feed as words;

pub(super) fn ratings(feed: &FeedReport, sheet: &Sheet) -> Vec<Block> {
    let least = feed.amplifier.least_load().ohms();
    let pairs = vec![
        (words::LEAST_LOAD, format!("{}\u{a0}Ω", fixed(least, 2))),
        (words::FULL_DRAW, amperes(feed.draw.worst_case.amperes())),
        (words::AVERAGE_DRAW, amperes(feed.draw.average.amperes())),
    ];
    let basis = match sheet.choice_key(FieldId::RatingBasis) {
        "CTA-2006" => words::BASIS_CTA,
        "CTA-2006-C" => words::BASIS_CTA_C,
        _ => words::BASIS_NONE,
    };
    let joined = match sheet.choice_key(FieldId::OutputUse) {
        "bridged" => words::JOINED_BRIDGED,
        "strapped" => words::JOINED_STRAPPED,
        _ => words::JOINED_NOT,
    };
    vec![
        Block::Pairs(pairs),
        Block::Text(basis.into()),
        Block::Text(joined.into()),
        Block::Text(words::POWER_MODEL.into()),
    ]
}

pub(super) fn gain(feed: &FeedReport) -> Vec<Block> {
    let plan = &feed.plan;
    let limit = match plan.limit {
        GainLimit::Wanted => words::LIMIT_WANTED,
        GainLimit::Coils => words::LIMIT_COILS,
        GainLimit::Amplifier => words::LIMIT_AMPLIFIER,
    };
    vec![
        Block::Pairs(vec![
            (words::GAIN_VOLTS, ac(plan.volts.volts())),
            (words::GAIN_MAKES, watts(plan.power.watts())),
            (words::GAIN_UNSAGGED, ac(plan.unsagged.volts())),
        ]),
        Block::Text(limit.into()),
        Block::Steps(words::GAIN_STEPS.to_vec()),
        Block::Text(words::GAIN_LOADED.into()),
        Block::Caution(words::GAIN_CAUTION),
    ]
}

fn ac(value: f64) -> String {
    format!("{}\u{a0}V\u{a0}AC", fixed(value, 1))
}

pub(super) fn power(feed: &FeedReport) -> Vec<Block> {
    let Some(real) = &feed.real else { return vec![Block::Text(words::POWER_WAITS.into())] };
    let nominal = feed.plan.power.watts();
    let row = |point: &PowerAt| {
        let share = 10.0 * (point.power.watts().max(1e-9) / nominal).log10();
        Row {
            header: (format!("{}\u{a0}Hz", hertz(point.frequency.hertz())), String::new()),
            cells: vec![
                (format!("{}\u{a0}Ω", fixed(point.impedance.ohms(), 1)), String::new()),
                (watts(point.power.watts()), format!("{}\u{a0}dB", fixed(share, 1))),
            ],
        }
    };
    let at = |point: &PowerAt| words::power_at(&watts(point.power.watts()), &hertz(point.frequency.hertz()));
    vec![
        Block::Text(words::power_about(&ac(feed.plan.volts.volts()), &watts(nominal))),
        Block::Table { heads: &words::POWER_HEADS, rows: real.at.iter().map(row).collect() },
        Block::Pairs(vec![
            (words::POWER_MEAN, watts(real.mean.watts())),
            (words::POWER_MOST, at(&real.most)),
            (words::POWER_LEAST, at(&real.least)),
        ]),
    ]
}

pub(super) fn line(feed: &FeedReport) -> Vec<Block> {
    let mut pairs = Vec::new();
    if let Some(effect) = feed.line.chosen {
        pairs.push((words::LINE_LOSS, loss(effect.loss_db)));
        pairs.push((words::LINE_POWER, percent(100.0 * effect.power_share)));
        if let Some(bare) = feed.line.qts_bare {
            pairs.push((words::LINE_QTS, words::from_to(&fixed(bare, 2), &fixed(effect.qts, 2))));
        }
    }
    let rows = feed.line.sizes.iter().map(|(size, decibels)| Row {
        header: (tables::size(*size), String::new()),
        cells: vec![(loss(*decibels), String::new())],
    });
    let mut blocks = vec![
        Block::Pairs(pairs),
        Block::Table { heads: &words::LINE_HEADS, rows: rows.collect() },
        Block::Text(words::LINE_ABOUT.into()),
    ];
    let at = |(hz, decibels): &(Frequency, f64)| Row {
        header: (format!("{}\u{a0}Hz", hertz(hz.hertz())), String::new()),
        cells: vec![(signed(*decibels), String::new())],
    };
    if !feed.line.response.is_empty() {
        let rows = feed.line.response.iter().map(at).collect();
        blocks.push(Block::Table { heads: &words::LINE_RESPONSE_HEADS, rows });
        blocks.push(Block::Text(words::LINE_RESPONSE.into()));
    }
    blocks
}

/// Decibels with their sign; a zero has none.
fn signed(decibels: f64) -> String {
    let sign = if decibels <= -0.005 {
        "−"
    } else if decibels >= 0.005 {
        "+"
    } else {
        ""
    };
    format!("{sign}{}\u{a0}dB", fixed(decibels.abs(), 2))
}

/// Decibels lost; nobody hears a twentieth of one.
fn loss(decibels: f64) -> String {
    if decibels < 0.05 { words::LESS_THAN_TENTH.into() } else { format!("{}\u{a0}dB", fixed(decibels, 1)) }
}
