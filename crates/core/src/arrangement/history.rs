//! Undo and redo: named steps over shared snapshots of the work.
//!
//! A step keeps the work as it was before it. No edit needs an inverse, and a step costs one pointer and its name.

use std::collections::VecDeque;
use std::sync::Arc;

use super::arrangement::Work;
use super::edit::Edit;

/// How many steps can be taken back.
pub const STEPS: usize = 100;

/// The work with the steps that led to it and those that were taken back.
#[derive(Clone, Debug)]
pub struct History {
    work: Arc<Work>,
    done: VecDeque<Step>,
    undone: Vec<Step>,
    gesture: Option<Edit>,
}

/// A step from one work to the next: the work on its far side, seen from the current one, and its name.
#[derive(Clone, Debug)]
struct Step {
    work: Arc<Work>,
    name: String,
}

impl History {
    /// A work without a past.
    pub fn new(work: Work) -> Self {
        Self { work: Arc::new(work), done: VecDeque::new(), undone: Vec::new(), gesture: None }
    }

    /// The work as it is now.
    pub const fn work(&self) -> &Arc<Work> {
        &self.work
    }

    /// Makes a change a step of its own. Gives whether anything changed; an edit that changes nothing leaves no step.
    pub fn apply(&mut self, edit: &Edit) -> bool {
        self.close_gesture();
        self.change(edit, false)
    }

    /// Makes a change within a gesture, such as dragging a number: edits of one kind are one step until
    /// [`Self::close_gesture`]. Gives whether anything changed.
    pub fn apply_in_gesture(&mut self, edit: Edit) -> bool {
        let joins = self.gesture.as_ref().is_some_and(|last| edit.joins(last));
        let changed = self.change(&edit, joins);
        if changed || joins {
            self.gesture = Some(edit);
        }
        changed
    }

    /// Ends a gesture: the next edit is a step of its own.
    pub fn close_gesture(&mut self) {
        self.gesture = None;
    }

    fn change(&mut self, edit: &Edit, joins: bool) -> bool {
        let mut next = Work::clone(&self.work);
        edit.apply(&mut next);
        if next == *self.work {
            return false;
        }
        let name = edit.label(&next.tune);
        let before = std::mem::replace(&mut self.work, Arc::new(next));
        self.undone.clear();
        match self.done.back_mut().filter(|_| joins) {
            // A gesture that came back to where it began leaves no step.
            Some(step) if step.work == self.work => drop(self.done.pop_back()),
            Some(step) => step.name = name,
            None => self.done.push_back(Step { work: before, name }),
        }
        if self.done.len() > STEPS {
            self.done.pop_front();
        }
        true
    }

    /// What would be taken back.
    pub fn undo_name(&self) -> Option<&str> {
        self.done.back().map(|step| step.name.as_str())
    }

    /// What would be done again.
    pub fn redo_name(&self) -> Option<&str> {
        self.undone.last().map(|step| step.name.as_str())
    }

    /// Takes the last step back; gives whether there was one.
    pub fn undo(&mut self) -> bool {
        self.close_gesture();
        let Some(Step { work, name }) = self.done.pop_back() else {
            return false;
        };
        let work = std::mem::replace(&mut self.work, work);
        self.undone.push(Step { work, name });
        true
    }

    /// Does the step again that was taken back last; gives whether there was one.
    pub fn redo(&mut self) -> bool {
        self.close_gesture();
        let Some(Step { work, name }) = self.undone.pop() else {
            return false;
        };
        let work = std::mem::replace(&mut self.work, work);
        self.done.push_back(Step { work, name });
        true
    }
}
