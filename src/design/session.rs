//! A design being worked on: actions, undo and redo.
use std::rc::Rc;

use super::document::{Design, Entry, MAX_LIST, MAX_NOTE, Reading, Sheet, is_key};
use super::limits::{FieldId, RecordKind};
use super::trials::{MAX_TRIALS, Trial};
use crate::units::Entered;

/// Something the user did.
#[derive(Clone, Debug, PartialEq)]
pub enum Action {
    /// Put an entry in a field.
    Set(FieldId, Entry),
    /// Emptied a field.
    Clear(FieldId),
    /// Typed the size a cut came out at, for every piece it was cut on.
    SetBuilt(Vec<String>, Entered),
    /// Took back the size a cut came out at.
    ClearBuilt(Vec<String>),
    /// Took a record from the shelf.
    TakeRecord(RecordKind, Rc<Sheet>),
    /// Left a field: the next edit is a new step.
    Seal,
    /// Ticked a step off, or took the tick back.
    Tick(String, bool),
    /// Read something in the car.
    AddReading(Reading),
    /// Took a trial in the car, or changed the one of this index.
    PutTrial(Option<usize>, Box<Trial>),
    /// Threw the trial of this index away.
    DropTrial(usize),
    /// Wrote a remark on a reading, by its place in the log.
    Annotate(usize, String),
    /// Took one step back.
    Undo,
    /// Took it forward again.
    Redo,
}

/// Undo steps kept for each design.
pub const MAX_STEPS: usize = 200;

/// A design with its history. Cheap to clone.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Session {
    /// The design now.
    pub design: Rc<Design>,
    past: Vec<Rc<Sheet>>,
    future: Vec<Rc<Sheet>>,
    /// What the last edit touched: an edit of the same thing joins its step.
    open_step: Option<String>,
}

impl Session {
    /// A session on a design, with no history.
    #[must_use]
    pub fn new(design: Design) -> Self {
        Self { design: Rc::new(design), ..Self::default() }
    }
    /// Whether there is a step to take back.
    #[must_use]
    pub fn can_undo(&self) -> bool {
        !self.past.is_empty()
    }
    /// Whether there is a step to take forward.
    #[must_use]
    pub fn can_redo(&self) -> bool {
        !self.future.is_empty()
    }
    /// The session after an action. An action that doesn't fit changes nothing.
    ///
    /// One step is one field edit however many keys it took. Undo restores entries and as-built sizes; ticks,
    /// readings and trials are facts and stay.
    #[must_use]
    pub fn apply(&self, action: Action) -> Self {
        let mut next = self.clone();
        match action {
            Action::Set(id, entry) => next.edit(step_of(id), |sheet| sheet.set(id, entry).is_ok()),
            Action::Clear(id) => next.edit(step_of(id), |sheet| {
                sheet.clear(id);
                true
            }),
            Action::SetBuilt(keys, size) => next.edit(format!("built {keys:?}"), |sheet| {
                keys.iter().for_each(|key| sheet.set_built(key, size));
                true
            }),
            Action::ClearBuilt(keys) => next.edit(format!("built {keys:?}"), |sheet| {
                keys.iter().for_each(|key| sheet.clear_built(key));
                true
            }),
            Action::TakeRecord(kind, from) => {
                next.open_step = None;
                next.edit(format!("take {}", kind.key()), |sheet| {
                    sheet.take_record(kind, &from);
                    true
                });
                next.open_step = None;
            }
            Action::Seal => next.open_step = None,
            Action::Tick(key, on) => next.tick(key, on),
            Action::AddReading(reading) => next.add_reading(reading),
            Action::PutTrial(index, trial) => next.put_trial(index, *trial),
            Action::DropTrial(index) => next.drop_trial(index),
            Action::Annotate(index, note) => next.annotate(index, &note),
            Action::Undo => next.travel(|session| (&mut session.past, &mut session.future)),
            Action::Redo => next.travel(|session| (&mut session.future, &mut session.past)),
        }
        next
    }

    fn edit(&mut self, step: String, change: impl FnOnce(&mut Sheet) -> bool) {
        let before = &self.design.sheet;
        let mut sheet = before.clone();
        if !change(&mut sheet) || sheet == *before {
            return;
        }
        if self.open_step.as_ref() != Some(&step) {
            self.past.push(Rc::new(before.clone()));
            if self.past.len() > MAX_STEPS {
                self.past.remove(0);
            }
        }
        self.open_step = Some(step);
        self.future.clear();
        self.design = Rc::new(Design { sheet, log: self.design.log.clone() });
    }

    fn travel(&mut self, stacks: impl Fn(&mut Self) -> (&mut Vec<Rc<Sheet>>, &mut Vec<Rc<Sheet>>)) {
        let now = Rc::new(self.design.sheet.clone());
        let (from, to) = stacks(self);
        let Some(sheet) = from.pop() else { return };
        to.push(now);
        self.open_step = None;
        self.design = Rc::new(Design { sheet: (*sheet).clone(), log: self.design.log.clone() });
    }

    fn tick(&mut self, key: String, on: bool) {
        let mut design = (*self.design).clone();
        if on && is_key(&key) && design.log.ticks.len() < MAX_LIST {
            design.log.ticks.insert(key);
        } else if !on {
            design.log.ticks.remove(&key);
        }
        self.design = Rc::new(design);
    }

    fn add_reading(&mut self, reading: Reading) {
        let mut design = (*self.design).clone();
        if is_key(&reading.subject) && design.log.readings.len() < MAX_LIST {
            design.log.readings.push(reading);
        }
        self.design = Rc::new(design);
    }

    fn annotate(&mut self, index: usize, note: &str) {
        let mut design = (*self.design).clone();
        if let Some(reading) = design.log.readings.get_mut(index) {
            // Blanks at the end stay while more is typed.
            reading.note = note.chars().filter(|c| !c.is_control()).take(MAX_NOTE).collect();
        }
        self.design = Rc::new(design);
    }
}

impl Session {
    fn put_trial(&mut self, index: Option<usize>, trial: Trial) {
        let Some(trial) = trial.checked() else { return };
        let mut design = (*self.design).clone();
        let trials = &mut design.log.trials;
        match index {
            Some(index) => trials.iter_mut().skip(index).take(1).for_each(|old| *old = trial.clone()),
            None if trials.len() < MAX_TRIALS => trials.push(trial),
            None => {}
        }
        self.design = Rc::new(design);
    }

    fn drop_trial(&mut self, index: usize) {
        let mut design = (*self.design).clone();
        if index < design.log.trials.len() {
            design.log.trials.remove(index);
        }
        self.design = Rc::new(design);
    }
}

fn step_of(id: FieldId) -> String {
    format!("field {}", id.row().code)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::document::parse_entry;
    use crate::units::UnitPrefs;

    fn set(id: FieldId, text: &str) -> Action {
        Action::Set(id, parse_entry(id, text, &UnitPrefs::default()).unwrap())
    }

    #[test]
    fn one_step_is_one_field_edit() {
        let session = Session::default();
        let typed = session.apply(set(FieldId::Fs, "28")).apply(set(FieldId::Fs, "28.4"));
        let both = typed.apply(Action::Seal).apply(set(FieldId::Fs, "29"));
        let back = both.apply(Action::Undo);
        assert_eq!(back.design.sheet.given(FieldId::Fs).unwrap().to_text(), "28.4 Hz");
        let empty = back.apply(Action::Undo);
        assert_eq!(empty.design.sheet, Sheet::default());
        assert!(!empty.can_undo());
        let again = empty.apply(Action::Redo).apply(Action::Redo);
        assert_eq!(again.design, both.design);
    }

    #[test]
    fn undo_keeps_ticks_and_readings() {
        let reading = Reading { at_s: 1, subject: "coil".into(), value: None, note: String::new() };
        let session = Session::default()
            .apply(set(FieldId::Fs, "28"))
            .apply(Action::Tick("fence 1".into(), true))
            .apply(Action::AddReading(reading))
            .apply(Action::Annotate(0, " coil\nwarm ".into()))
            .apply(Action::Annotate(7, "no such reading".into()))
            .apply(Action::Undo);
        assert_eq!(session.design.log.readings[0].note, " coilwarm ");
        assert!(session.design.sheet.given(FieldId::Fs).is_none());
        assert_eq!(session.design.log.ticks.len(), 1);
        assert_eq!(session.design.log.readings.len(), 1);
    }

    #[test]
    fn a_hundred_steps_come_back() {
        let mut session = Session::default();
        for i in 0..120 {
            session = session.apply(set(FieldId::Fs, &format!("{}", 20 + i))).apply(Action::Seal);
        }
        for _ in 0..120 {
            session = session.apply(Action::Undo);
        }
        assert_eq!(session.design.sheet, Sheet::default());
    }
}
