//! Long work beside the page: asked for by number, answered in a worker or, where there is none, between frames.
//!
//! Both do the same steps of [`Work`]. A newer request of a task makes the older one stale: it is dropped where it is
//! worked on, and its answer is dropped where it arrives.
use std::cell::{Cell, RefCell};
use std::rc::Rc;

use crate::design::document::Design;
use crate::design::jobs::{Answer, Request, Task, Work};
use crate::platform::worker::{self, FromWorker, Worker};
use crate::platform::{Timeout, clock};

/// Longest the page works before it draws and listens again, ms.
const PAGE_SLICE_MS: f64 = 6.0;
/// Longest a worker works before it listens for a newer request, ms.
const WORKER_SLICE_MS: f64 = 25.0;
/// Longest a worker may take to begin, ms.
const PATIENCE_MS: u32 = 5_000;

/// What one hears of a request.
#[derive(Clone, Debug, PartialEq)]
pub enum Heard {
    /// How far it is, 0 to 1.
    Progress(f64),
    /// It is done.
    Done(Box<Answer>),
    /// It can't be done.
    Failed,
}

/// Says of a message that it carries an answer, or that there is none.
const DONE: f64 = 2.0;
const FAILED: f64 = -1.0;

/// A message as numbers: number of the request, how far it is, and with [`DONE`] the answer.
fn message(number: u32, state: f64, answer: &[f64]) -> Vec<f64> {
    let mut message = vec![f64::from(number), state];
    message.extend(answer);
    message
}

/// Reads a message for the request of this number; `None` if it is for another.
fn heard(message: &[f64], number: u32) -> Option<Heard> {
    let [of, state, answer @ ..] = message else { return None };
    if *of != f64::from(number) {
        return None;
    }
    Some(match Answer::from_numbers(answer) {
        Some(answer) if *state == DONE => Heard::Done(Box::new(answer)),
        _ if *state == DONE || *state == FAILED => Heard::Failed,
        _ => Heard::Progress(*state),
    })
}

/// Where messages go.
type Out = Box<dyn Fn(&[f64])>;

/// Does requests bit by bit, and gives messages.
struct Shop {
    slice_ms: f64,
    out: Out,
    works: RefCell<Vec<(Request, Work)>>,
    timer: RefCell<Option<Timeout>>,
}

impl Shop {
    fn new(slice_ms: f64, out: impl Fn(&[f64]) + 'static) -> Rc<Self> {
        Rc::new(Self { slice_ms, out: Box::new(out), works: RefCell::default(), timer: RefCell::default() })
    }

    fn take(self: &Rc<Self>, request: Request) {
        let work = Work::start(request.task, &request.design);
        let Ok(mut works) = self.works.try_borrow_mut() else { return };
        works.retain(|(old, _)| old.task != request.task);
        match work {
            Ok(work) => works.push((request, work)),
            Err(_) => (self.out)(&message(request.number, FAILED, &[])),
        }
        drop(works);
        self.later();
    }

    fn later(self: &Rc<Self>) {
        let shop = Rc::clone(self);
        self.timer.replace(Some(Timeout::new(0, move || shop.slice())));
    }

    fn slice(self: &Rc<Self>) {
        let Ok(mut works) = self.works.try_borrow_mut() else { return };
        let Some((request, work)) = works.first_mut() else { return };
        let until = clock::elapsed_ms() + self.slice_ms;
        let mut done = false;
        while !done && clock::elapsed_ms() < until {
            done = work.step();
        }
        let number = request.number;
        if done {
            let answer = work.answer().to_numbers();
            works.remove(0);
            (self.out)(&message(number, DONE, &answer));
        } else {
            (self.out)(&message(number, work.progress().min(1.0), &[]));
        }
        let more = !works.is_empty();
        drop(works);
        if more {
            self.later();
        }
    }
}

/// In a worker: works for the page.
pub fn serve() {
    let shop = Shop::new(WORKER_SLICE_MS, worker::reply);
    worker::serve(move |text| {
        if let Some(request) = Request::from_text(&text) {
            shop.take(request);
        }
    });
}

/// A helper for one task of the page. Ends its work when dropped.
pub struct Helper(Rc<Inner>);

struct Inner {
    number: Cell<u32>,
    heard: Box<dyn Fn(Heard)>,
    worker: RefCell<Option<Worker>>,
    ready: Cell<bool>,
    /// What is asked while the worker is not ready; also what is asked again of the page where it never is.
    open: RefCell<Option<Request>>,
    shop: RefCell<Option<Rc<Shop>>>,
    patience: RefCell<Option<Timeout>>,
}

impl Helper {
    /// A helper that says what it hears of its latest request.
    pub fn new(heard: impl Fn(Heard) + 'static) -> Self {
        Self(Rc::new(Inner {
            number: Cell::new(0),
            heard: Box::new(heard),
            worker: RefCell::default(),
            ready: Cell::new(false),
            open: RefCell::default(),
            shop: RefCell::default(),
            patience: RefCell::default(),
        }))
    }

    /// Asks for a task; whatever was asked before is stale.
    pub fn ask(&self, task: Task, design: &Design) {
        let inner = &self.0;
        inner.number.set(inner.number.get().wrapping_add(1));
        let design = Design { sheet: design.sheet.clone(), ..Design::default() };
        let request = Request { number: inner.number.get(), task, design };
        inner.open.replace(Some(request.clone()));
        if let Some(shop) = &*inner.shop.borrow() {
            shop.take(request);
            return;
        }
        if inner.worker.borrow().is_none() {
            inner.start();
        }
        if inner.ready.get() {
            inner.send();
        }
    }

    /// Ends the work under way; what was asked is never answered.
    pub fn stop(&self) {
        self.0.number.set(self.0.number.get().wrapping_add(1));
        self.0.end();
    }
}

impl Drop for Helper {
    fn drop(&mut self) {
        self.0.end();
    }
}

impl Inner {
    fn end(&self) {
        self.worker.replace(None);
        self.ready.set(false);
        self.open.replace(None);
        self.patience.replace(None);
        if let Some(shop) = &*self.shop.borrow()
            && let Ok(mut works) = shop.works.try_borrow_mut()
        {
            works.clear();
        }
    }

    fn start(self: &Rc<Self>) {
        let weak = Rc::downgrade(self);
        let started = Worker::start(move |event| {
            if let Some(inner) = weak.upgrade() {
                inner.event(event);
            }
        });
        match started {
            Some(worker) => {
                self.worker.replace(Some(worker));
                let weak = Rc::downgrade(self);
                self.patience.replace(Some(Timeout::new(PATIENCE_MS, move || {
                    if let Some(inner) = weak.upgrade().filter(|inner| !inner.ready.get()) {
                        inner.by_page();
                    }
                })));
            }
            None => self.by_page(),
        }
    }

    fn send(self: &Rc<Self>) {
        let text = self.open.borrow().as_ref().map(Request::to_text);
        let sent = text.is_none_or(|text| self.worker.borrow().as_ref().is_some_and(|w| w.send(&text)));
        if !sent {
            self.by_page();
        }
    }

    fn event(self: &Rc<Self>, event: FromWorker) {
        match event {
            FromWorker::Ready => {
                self.ready.set(true);
                self.send();
            }
            FromWorker::Numbers(numbers) => self.tell(&numbers),
            // Not dropped here: its own listener is running. It does nothing more.
            FromWorker::Failed => self.by_page(),
        }
    }

    fn tell(&self, numbers: &[f64]) {
        if let Some(heard) = heard(numbers, self.number.get()) {
            (self.heard)(heard);
        }
    }

    /// The page does the work itself from now on.
    fn by_page(self: &Rc<Self>) {
        if self.shop.borrow().is_some() {
            return;
        }
        let weak = Rc::downgrade(self);
        let shop = Shop::new(PAGE_SLICE_MS, move |numbers| {
            if let Some(inner) = weak.upgrade() {
                inner.tell(numbers);
            }
        });
        self.shop.replace(Some(Rc::clone(&shop)));
        if let Some(request) = self.open.borrow().clone() {
            shop.take(request);
        }
    }
}
