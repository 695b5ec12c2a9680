//! Atoms gathered into scenes.
//!
//! ```text
//! claim := who size | size "for" who | size fate | fate size
//! whole := amount dish | dish ... amount, which are nobody's
//! ```
//! An amount goes to whoever was named before it in the same breath, or to whom it was for. One that is left over
//! is the whole, told once. What is told of nobody and is no whole ends the reading.

use super::atom::{Atom, Fate};
use super::scene::{Owner, Scene, Story, Told};
use crate::lang::amount::tidy;
use crate::lang::command::share::party::Who;
use crate::lang::command::share::size::Size;
use crate::lang::lexer::folded_words;
use crate::lang::syntax::{Amount, Day, Eater, Item, MealName, Span, Words};

/// Less is not what several had of.
const SERVED_GRAMS_MIN: f64 = 10.0;

/// An amount that is nobody's yet.
#[derive(Debug, Clone)]
pub struct Open {
    /// It is said of what it is.
    pub told_of: bool,
    /// No vessel is in it.
    pub net: bool,
    pub size: Size,
    pub of_it: bool,
    pub of: Option<Eater>,
    pub item: Option<(Words, Span)>,
    /// It is of what those before have left.
    pub of_rest: bool,
    /// As much for each.
    pub each: bool,
    pub container: Option<Words>,
    pub clause: usize,
}

#[derive(Default)]
pub struct Gathering {
    story: Story,
    pub now: Scene,
    pub clause: usize,
    pub open: Option<Open>,
    /// Whose the next amount is.
    pub pending: Option<Owner>,
    /// "gave Ana": of whose.
    pub giver: Option<Eater>,
    /// The last that was told of, for what goes on without a subject.
    pub subject: Option<Who>,
    pub but: bool,
    /// Whoever comes next has none.
    pub none: bool,
    /// The clause in which a reading is told to be the later one.
    later: Option<usize>,
    /// Somebody is told to have left or put back what comes next.
    pub left_by: bool,
}

/// The dishes in their order; `hand` is what was served before, if the message is about that.
pub fn story(atoms: &[Atom], hand: Option<Scene>) -> Option<Story> {
    let mut gathering = Gathering {
        now: hand.unwrap_or_default(),
        ..Gathering::default()
    };
    for (at, atom) in atoms.iter().enumerate() {
        gathering.take(atom, &atoms[at + 1..])?;
    }
    gathering.close()?;
    Some(gathering.story)
}

/// An amount or what stands for one.
pub fn is_size(atom: &Atom) -> bool {
    matches!(
        atom,
        Atom::Size { .. } | Atom::Item { .. } | Atom::Nothing | Atom::Finishes | Atom::AllBut
    )
}

/// The grams of an amount that a scale shows.
fn weight(amount: &Amount) -> Option<f64> {
    match amount {
        Amount::Bare(grams) | Amount::Mass(grams) => Some(*grams),
        _ => None,
    }
}

/// "two parts Tom one part me": amounts and people by turns, an amount first.
pub fn by_turns(after: &[Atom]) -> bool {
    let told = |atom: &&Atom| is_size(atom) || matches!(atom, Atom::Who(_));
    let clause = after
        .iter()
        .take_while(|atom| !matches!(atom, Atom::Break { .. }));
    let told: Vec<bool> = clause.filter(told).map(is_size).collect();
    told.len().is_multiple_of(2) && told.chunks_exact(2).all(|two| two == [true, false])
}

impl Gathering {
    fn take(&mut self, atom: &Atom, after: &[Atom]) -> Option<()> {
        match atom {
            Atom::Talk => {}
            Atom::Break { soft } => self.breaks(*soft),
            Atom::When(day, meal) => self.when(day.clone(), *meal)?,
            Atom::Who(said) => self.who(said, after)?,
            Atom::Size {
                size,
                of_it,
                told_of,
                of,
                net,
                of_rest,
            } => self.size(Open {
                of_rest: *of_rest,
                told_of: *told_of,
                net: *net,
                size: size.clone(),
                of_it: *of_it,
                of: of.clone(),
                item: None,
                each: false,
                container: None,
                clause: self.clause,
            })?,
            Atom::Item {
                amount,
                name,
                household,
                span,
                net,
            } => {
                self.dish(name, *household)?;
                self.size(Open {
                    of_rest: false,
                    told_of: false,
                    net: *net,
                    size: match amount {
                        Amount::Share(share) if *share < 1.0 => Size::Part(*share),
                        amount => Size::Amount(amount.clone()),
                    },
                    of_it: matches!(amount, Amount::Share(_)),
                    of: None,
                    item: Some((name.clone(), span.clone())),
                    each: false,
                    container: None,
                    clause: self.clause,
                })?;
            }
            Atom::Dish { name, household } => self.dish(name, *household)?,
            Atom::Split(count) => self.split(*count)?,
            Atom::Each => self.each()?,
            Atom::Nothing => self.nothing()?,
            // "finished 200 soup", "scraped out 180"
            Atom::Finishes if after.first().is_some_and(is_size) => self.eats(after),
            Atom::Finishes => {
                self.eats(&[Atom::Nothing]);
                self.size(self.rest())?;
            }
            Atom::AllBut => self.all_but()?,
            Atom::Uneaten => self.now.uneaten = true,
            Atom::Fate(fate) => self.fate(*fate, after)?,
            Atom::Eats => self.eats(after),
            Atom::Later { down } => {
                self.later = Some(self.clause);
                self.now.less |= *down;
            }
            Atom::Vessel(name) => self.stood_in(name)?,
        }
        Some(())
    }

    pub fn rest(&self) -> Open {
        Open {
            of_rest: false,
            told_of: false,
            net: true,
            size: Size::Rest,
            of_it: true,
            of: None,
            item: None,
            each: false,
            container: None,
            clause: self.clause,
        }
    }

    fn breaks(&mut self, soft: bool) {
        self.clause += 1;
        if matches!(self.pending, Some(Owner::Fate(_))) {
            self.pending = None;
        }
        if !soft && let Some(Owner::People(who)) = self.pending.take() {
            self.now.idle.push(who);
        }
    }

    fn when(&mut self, day: Option<Day>, meal: Option<MealName>) -> Option<()> {
        let story = &mut self.story;
        if day.is_some() && story.day.is_some() && story.day != day
            || meal.is_some() && story.meal.is_some() && story.meal != meal
        {
            return None;
        }
        story.day = day.or(story.day.take());
        story.meal = meal.or(story.meal);
        Some(())
    }

    /// Another dish opens another scene.
    fn dish(&mut self, name: &Words, household: bool) -> Option<()> {
        // "leek soup" and "the soup"
        let same = |known: &Words| {
            let (known, said) = (folded_words(&known.text), folded_words(&name.text));
            known.iter().all(|word| said.contains(word))
                || said.iter().all(|word| known.contains(word))
        };
        match &self.now.dish {
            Some(known) if same(known) => self.now.named = true,
            None => {
                self.now.dish = Some(name.clone());
                self.now.household = household;
            }
            Some(_) => {
                self.flush()?;
                let pending = self.pending.take();
                self.end()?;
                self.pending = pending;
                self.now.dish = Some(name.clone());
                self.now.household = household;
            }
        }
        Some(())
    }

    pub fn size(&mut self, mut open: Open) -> Option<()> {
        let rest = |told: &Told| told.size == Size::Rest && told.clause == self.clause;
        if open.size == Size::Rest
            && self.pending.is_none()
            && self.now.told.last().is_some_and(rest)
        {
            return Some(());
        }
        if matches!(open.size, Size::Amount(_)) && !open.net {
            open.container = open.container.or(self.now.vessel.take());
        }
        if std::mem::take(&mut self.but) {
            self.left_by = true;
            self.tell(Owner::Fate(Fate::Kept), open);
            return Some(());
        }
        if let Some(giver) = self.giver.take()
            && let Some(Owner::People(to)) = &self.pending
            && open.of.as_ref().is_none_or(|of| *of == giver)
            && let (Size::Amount(Amount::Bare(grams) | Amount::Mass(grams)), Some(to)) =
                (&open.size, to.one().cloned())
        {
            self.now.given.push((giver, to, *grams));
            self.pending = None;
            return Some(());
        }
        match self.pending.take() {
            Some(owner) => self.tell(owner, open),
            None => {
                self.flush()?;
                self.open = Some(open);
            }
        }
        Some(())
    }

    pub fn tell(&mut self, owner: Owner, open: Open) {
        let again = |told: &Told| told.owner == owner && told.size == open.size;
        if open.size == Size::Rest && self.now.told.iter().any(again) {
            return;
        }
        // "ate all but 45, the 45 went in the bin"
        let kept = |told: &&mut Told| {
            told.owner == Owner::Fate(Fate::Kept) && told.size == open.size && open.of_it
        };
        if matches!(owner, Owner::Fate(_))
            && let Some(kept) = self.now.told.iter_mut().find(kept)
        {
            kept.owner = owner;
            return;
        }
        // "i nicked 20 of Ana's"
        if let Some(Some(from)) = &open.of
            && let Owner::People(to) = &owner
            && let Some(to) = to.one().filter(|to| to.as_ref() != Some(from))
            && let Size::Amount(Amount::Bare(grams) | Amount::Mass(grams)) = open.size
            && self.now.gives_part_to(from)
        {
            let given = (Some(from.clone()), to.clone(), grams);
            self.now.given.push(given);
            return;
        }
        self.now.told.push(Told {
            owner,
            size: open.size,
            of_it: open.of_it,
            of: open.of,
            each: open.each.then_some(true),
            told_of: open.told_of,
            of_rest: open.of_rest,
            item: open.item.map(|(_, span)| span),
            container: open.container,
            left_by: std::mem::take(&mut self.left_by),
            clause: self.clause,
        });
    }

    /// What is nobody's is the whole.
    pub fn flush(&mut self) -> Option<()> {
        match self.open.take() {
            Some(open) => self.whole(open),
            None => Some(()),
        }
    }

    pub fn whole(&mut self, open: Open) -> Option<()> {
        let amount = match open.size {
            Size::Amount(amount) => amount,
            // "5 parts: 2 me, 2 Tom, 1 Ana"
            Size::Shares(parts) => {
                self.now.parts = Some(parts);
                return Some(());
            }
            _ => return None,
        };
        let name = self.now.dish.clone().unwrap_or_default();
        let item = Item::new(amount, name);
        let item = match open.item {
            Some((_, span)) => item.at(span),
            None => item,
        };
        let container = open.container;
        let item = Item { container, ..item };
        let later = self
            .later
            .is_some_and(|at| at + 1 >= open.clause && at <= open.clause + 1);
        match &mut self.now.whole {
            // "840 altogether", told again.
            Some(known) if known.amount == item.amount => Some(()),
            // "from 1702 down to 1342": what left it was served.
            Some(known) if later && self.now.told.is_empty() => {
                let left = weight(&known.amount)? - weight(&item.amount)?;
                known.amount = Amount::Mass(tidy(left));
                known.container = None;
                self.now.less = false;
                (left >= SERVED_GRAMS_MIN).then_some(())
            }
            Some(_) => None,
            None => {
                self.now.whole = Some(item);
                Some(())
            }
        }
    }

    fn split(&mut self, count: Option<u32>) -> Option<()> {
        if let Some(count) = count {
            self.joins(Who::Count(count))?;
        }
        match self.pending.take() {
            // "Tom and I went halves": of all, or of what they are told to have next.
            Some(Owner::People(who)) if who.one().is_none() => {
                self.pending = Some(Owner::People(who));
                self.size(self.rest())?;
                let last = self.now.told.last_mut()?;
                last.each = Some(false);
            }
            Some(Owner::People(who)) => self.joins(who)?,
            Some(owner) => self.pending = Some(owner),
            // "rest split Ana and me": the rest of several is in equal parts.
            None if count.is_none()
                && self.open.as_ref().is_some_and(|it| it.size == Size::Rest) => {}
            None => match self
                .now
                .told
                .last_mut()
                .filter(|told| told.clause == self.clause)
            {
                Some(told) => told.each = Some(false),
                None => self.now.split = Some(count),
            },
        }
        Some(())
    }

    fn each(&mut self) -> Option<()> {
        let clause = self.clause;
        match (&mut self.open, self.now.told.last_mut()) {
            (Some(open), _) => open.each = true,
            (None, Some(told)) if told.clause == clause => told.each = Some(true),
            _ => return None,
        }
        Some(())
    }

    fn nothing(&mut self) -> Option<()> {
        match self.pending.take() {
            Some(Owner::People(who)) => self.now.none.push(who),
            // "none for me"
            None => self.none = true,
            Some(Owner::Fate(_)) => return None,
        }
        Some(())
    }

    /// "ate 180": the sender, if nobody is told of.
    fn eats(&mut self, after: &[Atom]) {
        let mut rest = after.iter();
        let next = rest.find(|atom| !matches!(atom, Atom::Talk | Atom::When(..) | Atom::Eats));
        if self.pending.is_none() && self.open.is_none() && next.is_some_and(is_size) {
            let who = self.subject.clone().unwrap_or(Who::sender());
            self.pending = Some(Owner::People(who));
        }
    }

    fn end(&mut self) -> Option<()> {
        self.flush()?;
        let mut scene = std::mem::take(&mut self.now);
        scene.shared_unevenly();
        if scene.dish.is_some() || !scene.told.is_empty() {
            self.story.scenes.push(scene);
        }
        Some(())
    }

    fn close(&mut self) -> Option<()> {
        if let Some(Owner::People(who)) = self.pending.take() {
            self.now.idle.push(who);
        }
        self.end()
    }
}
