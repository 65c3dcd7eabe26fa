//! Answers as plain numbers: first what it is, then its lists, each behind its length.
use super::Answer;
use crate::design::find::{Found, Proposal};
use crate::model::acoustics::search::{Bound, Kind, Merit, Pipe, Tube};
use crate::model::acoustics::slack::{Band, FIGURES, Slack, Spread};
use crate::units::{Frequency, Length};

const FOUND: f64 = 1.0;
const SLACK: f64 = 2.0;
/// Most entries of a list; no answer comes near.
const LONGEST: f64 = 10_000.0;

const BOUNDS: [Bound; 5] = [Bound::Voltage, Bound::Current, Bound::Travel, Bound::Port, Bound::Radiator];

/// The place of a thing in its list.
fn place<T: PartialEq>(list: &[T], thing: &T) -> f64 {
    list.iter().position(|one| one == thing).map_or(-1.0, |index| index as f64)
}

impl Answer {
    /// The answer as numbers.
    #[must_use]
    pub fn to_numbers(&self) -> Vec<f64> {
        match self {
            Self::Found(found) => {
                let mut out = vec![FOUND, found.evaluations as f64];
                for list in [&found.ranking, &found.trade] {
                    out.push(list.len() as f64);
                    list.iter().for_each(|proposal| put(&mut out, proposal));
                }
                out
            }
            Self::Slack(slack) => {
                let mut out = vec![SLACK];
                for band in [&slack.level, &slack.travel, &slack.port, &slack.impedance, &slack.delay] {
                    out.push(band.low.len() as f64);
                    out.extend(&band.low);
                    out.extend(&band.high);
                }
                out.push(slack.figures.len() as f64);
                for (figure, spread) in &slack.figures {
                    out.extend([place(&FIGURES, figure), spread.low, spread.high, spread.deviation]);
                }
                out
            }
        }
    }

    /// The answer of numbers; `None` if they are none.
    #[must_use]
    pub fn from_numbers(numbers: &[f64]) -> Option<Self> {
        let mut from = Numbers(numbers.iter());
        let kind = from.number()?;
        let answer = if kind == FOUND {
            let evaluations = from.number()? as u64;
            let mut lists = [Vec::new(), Vec::new()];
            for list in &mut lists {
                for _ in 0..from.count()? {
                    list.push(from.proposal()?);
                }
            }
            let [ranking, trade] = lists;
            Self::Found(Found { ranking, trade, evaluations })
        } else if kind == SLACK {
            let mut slack = Slack {
                level: from.band()?,
                travel: from.band()?,
                port: from.band()?,
                impedance: from.band()?,
                delay: from.band()?,
                figures: Vec::new(),
            };
            for _ in 0..from.count()? {
                let figure = from.one_of(&FIGURES)?;
                let spread = Spread { low: from.number()?, high: from.number()?, deviation: from.number()? };
                slack.figures.push((figure, spread));
            }
            Self::Slack(Box::new(slack))
        } else {
            return None;
        };
        from.0.next().is_none().then_some(answer)
    }
}

/// What is not there is a number below zero: none of these can be.
fn put(out: &mut Vec<f64>, proposal: &Proposal) {
    let merit = &proposal.merit;
    let tube = proposal.tube;
    let or_none = |value: Option<f64>| value.unwrap_or(-1.0);
    out.extend([
        place(&Kind::ALL, &proposal.kind),
        proposal.net_m3,
        or_none(proposal.front_m3),
        or_none(proposal.tuning_hz),
        or_none(tube.map(|tube| tube.inside.metres())),
        or_none(tube.map(|tube| tube.wall.metres())),
        or_none(tube.map(|tube| f64::from(tube.count))),
        or_none(proposal.length_m),
        or_none(proposal.radiators.map(|(count, _)| f64::from(count))),
        or_none(proposal.radiators.map(|(_, weight)| weight)),
    ]);
    out.extend(match &proposal.behind {
        Some(Pipe { tube, length, tuning }) => {
            [tube.inside.metres(), tube.wall.metres(), f64::from(tube.count), length.metres(), tuning.hertz()]
        }
        None => [-1.0; 5],
    });
    out.extend(proposal.outside_m);
    out.push(or_none(proposal.top_m));
    out.extend([
        merit.score,
        merit.reach_hz,
        merit.level_db,
        merit.unevenness_db,
        merit.periods,
        place(&BOUNDS, &merit.bound),
        merit.bound_hz,
    ]);
}

/// Numbers being read.
struct Numbers<'a>(std::slice::Iter<'a, f64>);

impl Numbers<'_> {
    fn number(&mut self) -> Option<f64> {
        self.0.next().copied().filter(|number| number.is_finite())
    }
    fn optional(&mut self) -> Option<Option<f64>> {
        self.number().map(|number| (number >= 0.0).then_some(number))
    }
    fn count(&mut self) -> Option<usize> {
        self.number().filter(|count| (0.0..=LONGEST).contains(count)).map(|count| count as usize)
    }
    fn one_of<T: Copy>(&mut self, list: &[T]) -> Option<T> {
        let count = self.count()?;
        list.get(count).copied()
    }
    fn band(&mut self) -> Option<Band> {
        let count = self.count()?;
        let mut list = || (0..count).map(|_| self.number()).collect::<Option<Vec<f64>>>();
        Some(Band { low: list()?, high: list()? })
    }
    fn tube(&mut self) -> Option<Option<Tube>> {
        Some(match (self.optional()?, self.optional()?, self.optional()?) {
            (Some(inside), Some(wall), Some(count)) => Some(Tube {
                inside: Length::from_metres(inside),
                wall: Length::from_metres(wall),
                count: count as u32,
            }),
            _ => None,
        })
    }
    fn pipe(&mut self) -> Option<Option<Pipe>> {
        Some(match (self.tube()?, self.optional()?, self.optional()?) {
            (Some(tube), Some(length), Some(tuning)) => Some(Pipe {
                tube,
                length: Length::from_metres(length),
                tuning: Frequency::from_hertz(tuning),
            }),
            _ => None,
        })
    }
    fn proposal(&mut self) -> Option<Proposal> {
        let kind = self.one_of(&Kind::ALL)?;
        let (net_m3, front_m3, tuning_hz) = (self.number()?, self.optional()?, self.optional()?);
        let tube = self.tube()?;
        Some(Proposal {
            kind,
            net_m3,
            front_m3,
            tuning_hz,
            tube,
            length_m: self.optional()?,
            radiators: self.optional()?.map(|count| count as u32).zip(self.optional()?),
            behind: self.pipe()?,
            outside_m: [self.number()?, self.number()?, self.number()?],
            top_m: self.optional()?,
            merit: Merit {
                score: self.number()?,
                reach_hz: self.number()?,
                level_db: self.number()?,
                unevenness_db: self.number()?,
                periods: self.number()?,
                bound: self.one_of(&BOUNDS)?,
                bound_hz: self.number()?,
            },
        })
    }
}
