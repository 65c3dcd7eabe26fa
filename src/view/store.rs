//! The one store: the open design, its report, what the user looks at.
use std::rc::Rc;

use yew::prelude::*;

use crate::design::document::{Design, parse_entry};
use crate::design::evaluate::{POINTS, complete, evaluate, evaluate_first};
use crate::design::limits::FieldId;
use crate::design::report::{BoxReport, Report};
use crate::design::session::{Action, Session};
use crate::design::stored::Stored;
use crate::design::warnings::Place;
use crate::model::acoustics::slack::Slack;
use crate::small::VecMap;
use crate::units::UnitPrefs;

/// A sheet laid over the place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Panel {
    /// Nothing.
    None,
    /// Designs, the shelf, sharing.
    Designs,
    /// What this place holds, to jump to.
    Contents,
    /// Units and theme.
    Settings,
    /// The guided meter check.
    Meter,
}

/// What was saved last.
pub type Clean = (Rc<Design>, Rc<VecMap<FieldId, String>>);

/// Everything the page shows.
#[derive(Clone)]
pub struct Store {
    /// The open design and its history.
    pub session: Session,
    /// Its id in storage.
    pub id: Rc<str>,
    /// Its revision in storage as this tab knows it; 0 while never saved.
    pub revision: u64,
    /// Texts that do not fit their field yet.
    pub drafts: Rc<VecMap<FieldId, String>>,
    /// Design and drafts as they lie in storage; `None` while never saved.
    pub clean: Option<Clean>,
    /// What the design comes to.
    pub report: Rc<Report>,
    /// The last box of this design that could be planned; shown, marked as such, while what is entered cannot.
    pub last_box: Option<Rc<BoxReport>>,
    /// What inaccuracy does to it, while that is shown and worked out.
    pub slack: Option<Rc<Slack>>,
    /// Whether the report is complete: the first picture does without the feed.
    pub complete: bool,
    /// Units.
    pub prefs: UnitPrefs,
    /// Theme chosen by the user.
    pub dark: Option<bool>,
    /// Theme of the system.
    pub system_dark: bool,
    /// Whether the meter check sounds.
    pub sound: bool,
    /// Whether the keys stand at the left thumb.
    pub left: bool,
    /// The place looked at.
    pub place: Place,
    /// The panel over it.
    pub panel: Panel,
    /// Index of the frequency the curves are read at.
    pub cursor: usize,
    /// A message to the user.
    pub notice: Option<Rc<str>>,
    /// Another tab saved this design: nothing is saved until the user chooses.
    pub conflict: bool,
    /// Whether the design was evaluated; not after two failed starts.
    pub awake: bool,
}

/// What may happen to the store.
pub enum Msg {
    /// An action on the design.
    Do(Action),
    /// A text typed into a field.
    Typed(FieldId, String),
    /// A design read from storage, a file or a link takes the place of the open one, which stays stored.
    Open {
        /// Its id.
        id: Rc<str>,
        /// The design.
        stored: Box<Stored>,
    },
    /// The first picture stands: now the rest of the report.
    Complete,
    /// A design was saved.
    Saved {
        /// Its id.
        id: Rc<str>,
        /// Its revision now.
        revision: u64,
        /// What was saved.
        clean: Clean,
    },
    /// Another tab saved the design of this id.
    Conflict(Rc<str>),
    /// To another place.
    Go(Place),
    /// Opens or closes a panel.
    Show(Panel),
    /// Other units.
    Units(UnitPrefs),
    /// Other theme.
    Dark(Option<bool>),
    /// The system's theme changed.
    SystemDark(bool),
    /// Sound on or off.
    Sound(bool),
    /// Keys at the left thumb or at the right one.
    Left(bool),
    /// Reads the curves elsewhere.
    Cursor(usize),
    /// Slack of the design with this sheet; of another one it is stale.
    Slack(Option<(Rc<Design>, Rc<Slack>)>),
    /// Tells the user something.
    Tell(String),
    /// The user has read it.
    Dismiss,
}

/// The store's handle, in a context.
pub type Handle = UseReducerHandle<Store>;

impl Store {
    /// A store with a design to show.
    #[must_use]
    pub fn new(id: Rc<str>, stored: Stored) -> Self {
        let report = Rc::new(evaluate_first(&stored.design.sheet));
        let store = Self {
            session: Session::default(),
            id: Rc::clone(&id),
            revision: 0,
            drafts: Rc::default(),
            clean: None,
            last_box: report.enclosure.clone().ok(),
            report,
            slack: None,
            complete: false,
            prefs: UnitPrefs::default(),
            dark: None,
            system_dark: false,
            sound: true,
            left: false,
            place: Place::Desk,
            panel: Panel::None,
            cursor: POINTS * 3 / 10,
            notice: None,
            conflict: false,
            awake: true,
        };
        store.opened(id, stored)
    }

    /// The design.
    #[must_use]
    pub fn design(&self) -> &Design {
        &self.session.design
    }

    /// Whether the page is dark now.
    #[must_use]
    pub fn is_dark(&self) -> bool {
        self.dark.unwrap_or(self.system_dark)
    }

    fn opened(mut self, id: Rc<str>, stored: Stored) -> Self {
        self.session = Session::new(stored.design);
        self.id = id;
        self.revision = stored.revision;
        self.drafts = Rc::new(stored.drafts);
        self.clean =
            (stored.revision > 0).then(|| (Rc::clone(&self.session.design), Rc::clone(&self.drafts)));
        self.conflict = false;
        self.awake = true;
        self.slack = None;
        self
    }

    /// Everything that the design comes to.
    #[inline(never)]
    fn evaluated(mut self) -> Self {
        self.report = Rc::new(merged(&self.report, evaluate(&self.session.design.sheet)));
        self.last_box = self.report.enclosure.clone().ok();
        self.complete = true;
        self
    }

    /// Adds what the first picture did without.
    #[inline(never)]
    fn completed(mut self) -> Self {
        if !self.complete {
            self.report = Rc::new(complete(&self.session.design.sheet, &self.report));
            self.complete = true;
        }
        self
    }

    fn with_session(&self, session: Session) -> Self {
        let mut next = self.clone();
        if session.design.sheet != self.session.design.sheet {
            // An unfinished text goes when its entry is changed by something else: undo, the shelf, the drawing.
            let (old, new) = (&self.session.design.sheet, &session.design.sheet);
            if self.drafts.keys().any(|id| old.entry(*id) != new.entry(*id)) {
                let still = self.drafts.iter().filter(|(id, _)| old.entry(**id) == new.entry(**id));
                next.drafts = Rc::new(still.map(|(id, text)| (*id, text.clone())).collect());
            }
            next.report = Rc::new(merged(&self.report, evaluate(&session.design.sheet)));
            next.complete = true;
            if let Ok(enclosure) = &next.report.enclosure {
                next.last_box = Some(Rc::clone(enclosure));
            }
            next.slack = None;
        }
        next.session = session;
        next
    }

    fn typed(&self, id: FieldId, text: &str) -> Self {
        let action = if text.trim().is_empty() {
            Ok(Action::Clear(id))
        } else {
            parse_entry(id, text, &self.prefs).map(|entry| Action::Set(id, entry))
        };
        let mut next = match action {
            Ok(action) => self.with_session(self.session.apply(action)),
            Err(_) => self.clone(),
        };
        let fits = text.trim().is_empty() || parse_entry(id, text, &self.prefs).is_ok();
        let mut drafts = (*next.drafts).clone();
        if fits {
            drafts.remove(&id);
        } else {
            drafts.insert(id, text.chars().take(40).collect());
        }
        if drafts != *next.drafts {
            next.drafts = Rc::new(drafts);
        }
        next
    }
}

/// Keeps the old parts of a report that did not change, so that what shows them need not look again.
fn merged(old: &Report, mut new: Report) -> Report {
    fn keep<T: PartialEq>(
        old: &Result<Rc<T>, crate::design::report::Gap>,
        new: &mut Result<Rc<T>, crate::design::report::Gap>,
    ) {
        if let (Ok(old), Ok(new)) = (old, new)
            && **old == **new
        {
            *new = Rc::clone(old);
        }
    }
    keep(&old.driver, &mut new.driver);
    keep(&old.wiring, &mut new.wiring);
    keep(&old.enclosure, &mut new.enclosure);
    keep(&old.sound, &mut new.sound);
    keep(&old.feed, &mut new.feed);
    if old.warnings == new.warnings {
        new.warnings = Rc::clone(&old.warnings);
    }
    new
}

impl Reducible for Store {
    type Action = Msg;

    fn reduce(self: Rc<Self>, msg: Msg) -> Rc<Self> {
        let mut next = match msg {
            Msg::Do(action) => self.with_session(self.session.apply(action)),
            Msg::Typed(id, text) => self.typed(id, &text),
            Msg::Open { id, stored } => (*self).clone().opened(id, *stored).evaluated(),
            Msg::Complete => (*self).clone().completed(),
            other => {
                let mut next = (*self).clone();
                // The other places show what the first picture did without.
                if matches!(other, Msg::Go(place) if place != Place::Desk) {
                    next = next.completed();
                }
                next.set(other);
                next
            }
        };
        if next == *self {
            return self;
        }
        next.cursor = next.cursor.min(POINTS - 1);
        Rc::new(next)
    }
}

impl Store {
    fn set(&mut self, msg: Msg) {
        match msg {
            Msg::Saved { id, revision, clean } if id == self.id => {
                self.revision = revision;
                self.clean = Some(clean);
            }
            Msg::Conflict(id) => self.conflict |= id == self.id,
            Msg::Go(place) => {
                self.place = place;
                self.panel = Panel::None;
            }
            Msg::Show(panel) => self.panel = if self.panel == panel { Panel::None } else { panel },
            Msg::Units(prefs) => self.prefs = prefs,
            Msg::Dark(dark) => self.dark = dark,
            Msg::SystemDark(dark) => self.system_dark = dark,
            Msg::Sound(on) => self.sound = on,
            Msg::Left(left) => self.left = left,
            Msg::Cursor(index) => self.cursor = index,
            Msg::Slack(slack) => {
                let design = &self.session.design;
                let now = slack.filter(|(of, _)| of.sheet == design.sheet);
                self.slack = now.map(|(_, slack)| slack);
            }
            Msg::Tell(text) => self.notice = Some(text.into()),
            Msg::Dismiss => self.notice = None,
            Msg::Do(_) | Msg::Complete | Msg::Typed(..) | Msg::Open { .. } | Msg::Saved { .. } => {}
        }
    }
}

impl PartialEq for Store {
    /// Shared parts are the same part or they are not: looking at every number of a report would cost more than
    /// rendering it.
    fn eq(&self, other: &Self) -> bool {
        self.session == other.session
            && Rc::ptr_eq(&self.report, &other.report)
            && self.slack.as_ref().map(Rc::as_ptr) == other.slack.as_ref().map(Rc::as_ptr)
            && self.id == other.id
            && self.revision == other.revision
            && self.drafts == other.drafts
            && self.clean == other.clean
            && self.prefs == other.prefs
            && (self.dark, self.system_dark, self.sound) == (other.dark, other.system_dark, other.sound)
            && (self.left, self.complete) == (other.left, other.complete)
            && (self.place, self.panel, self.cursor) == (other.place, other.panel, other.cursor)
            && self.notice == other.notice
            && (self.conflict, self.awake) == (other.conflict, other.awake)
    }
}
