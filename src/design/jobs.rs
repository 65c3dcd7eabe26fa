//! Work that takes longer than a frame: done in steps, in a worker or, where there is none, between frames.
//!
//! A [`Request`] goes out as text and an [`Answer`] comes back as plain numbers, so both cross to a worker and back
//! without anything to agree on but this file. The same functions serve natively and on the page's own thread.
mod numbers;

use super::document::Design;
use super::evaluate::{HIGHEST_HZ, LOWEST_HZ, POINTS, evaluate};
use super::file;
use super::find::{Found, Search};
use super::limits::FieldId;
use super::report::{Part, Report, SoundReport};
use crate::model::acoustics::slack::{Slack, SlackJob, Tolerances};
use crate::model::numeric::log_grid;
use crate::units::Length;

/// Variants of a slack.
pub const VARIANTS: usize = 240;
/// Candidates that count as one bit of work; a bit takes well under a millisecond.
const CANDIDATES: u64 = 100;

/// What is to be done.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Task {
    /// Find a box.
    Find,
    /// Slack of the design.
    Slack,
}

impl Task {
    const ALL: [(Self, &'static str); 2] = [(Self::Find, "find"), (Self::Slack, "slack")];
}

/// A task for a design. A later request of the same task makes the earlier one stale.
#[derive(Clone, Debug, PartialEq)]
pub struct Request {
    /// Counts requests.
    pub number: u32,
    /// The task.
    pub task: Task,
    /// The design; only its sheet counts.
    pub design: Design,
}

impl Request {
    /// The request as text.
    #[must_use]
    pub fn to_text(&self) -> String {
        let word = Task::ALL.iter().find(|(task, _)| *task == self.task).map_or("", |(_, word)| word);
        format!("{word} {}\n{}", self.number, file::to_value(&self.design))
    }
    /// The request of a text; `None` if it is none.
    #[must_use]
    pub fn from_text(text: &str) -> Option<Self> {
        let (head, design) = text.split_once('\n')?;
        let (word, number) = head.split_once(' ')?;
        let task = Task::ALL.iter().find(|(_, known)| *known == word)?.0;
        let design = file::read(design).ok()?.design;
        Some(Self { number: number.parse().ok()?, task, design })
    }
}

/// What a task came to.
#[derive(Clone, Debug, PartialEq)]
pub enum Answer {
    /// Boxes.
    Found(Found),
    /// Bands and spreads.
    Slack(Box<Slack>),
}

/// A task under way.
pub enum Work {
    /// A search.
    Find(Box<Search>),
    /// Variants.
    Slack(Box<SlackJob>),
}

impl Work {
    /// Begins a task.
    ///
    /// # Errors
    /// What is missing for it, or why it can't be.
    pub fn start(task: Task, design: &Design) -> Part<Self> {
        let report = evaluate(&design.sheet);
        Ok(match task {
            Task::Find => Self::Find(Box::new(Search::start(&design.sheet, &report)?)),
            Task::Slack => Self::Slack(Box::new(slack(design, &report)?)),
        })
    }
    /// Does a bit; whether all is done.
    pub fn step(&mut self) -> bool {
        match self {
            Self::Find(job) => job.step(CANDIDATES),
            Self::Slack(job) => job.step(1),
        }
    }
    /// How much is done, 0 to 1.
    #[must_use]
    pub fn progress(&self) -> f64 {
        match self {
            Self::Find(job) => job.progress(),
            Self::Slack(job) => job.progress(),
        }
    }
    /// What it came to so far.
    #[must_use]
    pub fn answer(&self) -> Answer {
        match self {
            Self::Find(job) => Answer::Found(job.found().clone()),
            Self::Slack(job) => Answer::Slack(Box::new(job.outcome())),
        }
    }
}

/// The whole task at once.
///
/// # Errors
/// Those of [`Work::start`].
pub fn run(task: Task, design: &Design) -> Part<Answer> {
    let mut work = Work::start(task, design)?;
    while !work.step() {}
    Ok(work.answer())
}

fn slack(design: &Design, report: &Report) -> Part<SlackJob> {
    let sound = report.sound.clone()?;
    let share = |id| design.sheet.si(id).unwrap_or(0.0);
    let tolerances = Tolerances {
        cut: Length::from_metres(share(FieldId::SlackCut)),
        fs: share(FieldId::SlackFs),
        qts: share(FieldId::SlackQts),
        vas: share(FieldId::SlackVas),
        air: share(FieldId::SlackAir),
        losses: design.sheet.si(FieldId::SlackLosses).unwrap_or(1.0),
    };
    let SoundReport { built, .. } = &*sound;
    Ok(SlackJob::start(*built, tolerances, &log_grid(LOWEST_HZ, HIGHEST_HZ, POINTS), VARIANTS)?)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::demo;

    #[test]
    fn requests_come_back() {
        let request = Request { number: 7, task: Task::Slack, design: demo::design() };
        assert_eq!(Request::from_text(&request.to_text()), Some(request));
        for text in ["", "find", "find x\n{}", "sing 1\n{}", "find 1\n", "slack 2\nnull"] {
            assert_eq!(Request::from_text(text), None, "{text}");
        }
    }

    #[test]
    fn answers_come_back_as_numbers() {
        for task in [Task::Find, Task::Slack] {
            let answer = run(task, &demo::design()).unwrap();
            let numbers = answer.to_numbers();
            assert_eq!(Answer::from_numbers(&numbers).as_ref(), Some(&answer), "{task:?}");
            // Any cut, any nonsense: no answer, no panic.
            for end in (0..numbers.len()).step_by(7) {
                assert_eq!(Answer::from_numbers(&numbers[..end]), None, "{task:?} {end}");
            }
            for spoilt in [f64::NAN, -1.0, 1e300, 0.5] {
                let mut numbers = numbers.clone();
                for at in 0..6.min(numbers.len()) {
                    numbers[at] = spoilt;
                    let _ = Answer::from_numbers(&numbers);
                }
            }
        }
    }
}
