//! Marks gathered into tellings: who had what, when, and how it was shared.
//!
//! People stand before what they had ("Ana 120 dal") or after it ("120 dal for Ana"); what parts the
//! plates tells which, or else the message as a whole: it begins with an amount and ends with a name.

use super::content::Content;
use super::mark::Mark;
use super::party::{Role, Said, Who};
use super::size::Size;
use crate::lang::syntax::{Amount, Day, Item, MealName};

#[derive(Debug, Clone, Default)]
pub struct Telling {
    pub who: Option<Who>,
    pub role: Option<Role>,
    pub finishes: bool,
    pub day: Option<Day>,
    pub meal: Option<MealName>,
    pub content: Option<Content>,
    pub each: bool,
    /// In equal parts, and for how many if a number was said.
    pub split: Option<Option<u32>>,
    pub ratio: Option<Vec<f64>>,
    /// They had none of it.
    pub nothing: bool,
    /// Whose it was before.
    pub giver: Option<Who>,
    /// The people were told after the content, which is therefore whole.
    pub closed: bool,
    /// The day was told before the content, so that it holds for what follows.
    pub day_led: bool,
    pub meal_led: bool,
}

/// Gather the marks of a message; `None` when they do not add up to tellings.
pub fn tellings(marks: Vec<Mark>) -> Option<Vec<Telling>> {
    let significant = |mark: &&Mark| matches!(mark, Mark::Who(_) | Mark::Content(_));
    let first = marks.iter().find(significant);
    let last = marks.iter().rev().find(significant);
    let mut gathering = Gathering {
        done: Vec::new(),
        now: Telling::default(),
        parted: false,
        apart: false,
        goes_on: None,
        trailing: matches!(first, Some(Mark::Content(_))) && matches!(last, Some(Mark::Who(_))),
    };
    for (at, mark) in marks.iter().enumerate() {
        gathering.take(mark, &marks[at + 1..])?;
    }
    gathering.next();
    let mut done = gathering.done;
    spread(&mut done)?;
    Some(done)
}

struct Gathering {
    done: Vec<Telling>,
    now: Telling,
    /// A break stands before the next mark.
    parted: bool,
    /// Words were passed over before the next mark.
    apart: bool,
    /// Whoever had what was told before a new day goes on eating.
    goes_on: Option<Who>,
    /// On the whole, people stand after what they had.
    trailing: bool,
}

impl Gathering {
    fn next(&mut self) {
        let now = std::mem::take(&mut self.now);
        if !now.is_empty() {
            self.done.push(now);
        }
    }

    fn take(&mut self, mark: &Mark, after: &[Mark]) -> Option<()> {
        let parted = std::mem::take(&mut self.parted);
        let apart = std::mem::take(&mut self.apart);
        match mark {
            Mark::Break { .. } => {
                self.parted = true;
                self.apart = apart && !parted;
            }
            Mark::Who(said) => self.who(said, parted, after)?,
            Mark::When(day, meal) => self.when(day.clone(), *meal, parted, after),
            Mark::Each => self.now.each = true,
            Mark::OneEach => {
                if self.now.who.is_some() && self.now.content.is_some() {
                    self.next();
                }
                // "into three bowls, one each": the bowls are told, and how much is in all of them.
                self.now.each |= self.now.split.flatten().is_none();
                self.now.split.get_or_insert(None);
            }
            Mark::Split(people) => {
                let known = self.now.split.flatten();
                self.now.split = Some(known.or(*people));
            }
            Mark::Ratio(ratio) => {
                if self.now.closed && self.now.ratio.is_none() && self.now.content.is_none() {
                    return None;
                }
                self.now.ratio = Some(ratio.clone());
            }
            Mark::Nothing => {
                if self.now.content.is_some() {
                    self.next();
                }
                self.now.nothing = true;
            }
            Mark::Finishes => {
                if self.now.content.is_some() {
                    self.next();
                }
                self.now.finishes = true;
            }
            Mark::Too => {
                let before = self.done.last().and_then(|telling| telling.who.clone());
                if self.now.who.is_none() {
                    self.now.who = before;
                }
            }
            Mark::DayAfter => {
                let told = std::iter::once(&self.now).chain(self.done.iter().rev());
                let last = told.filter_map(|telling| telling.day.clone()).next()?;
                self.when(Some(next_day(last)?), None, parted, after);
            }
            Mark::Idle => self.parted = parted,
            Mark::Talk => {
                self.parted = parted;
                self.apart = true;
            }
            Mark::Content(content) => self.content(content, parted, apart, after)?,
        }
        Some(())
    }

    fn who(&mut self, said: &Said, parted: bool, after: &[Mark]) -> Option<()> {
        self.goes_on = None;
        self.place(said, parted, after)?;
        self.now.each |= said.each && said.role == Role::Subject;
        Some(())
    }

    fn place(&mut self, said: &Said, parted: bool, after: &[Mark]) -> Option<()> {
        let content_follows = matches!(
            after.iter().find(|mark| !matches!(
                mark,
                Mark::When(..) | Mark::Break { colon: true } | Mark::Each | Mark::Talk
            )),
            Some(Mark::Content(_) | Mark::Nothing)
        );
        let now = &mut self.now;
        let attaches = match (&now.content, &now.who) {
            (Some(_), None) => match said.role {
                // "the other half I ate"
                Role::Subject => !content_follows && !parted,
                Role::Given => false,
                Role::Plain if parted => !content_follows,
                Role::Plain => !content_follows || self.trailing,
                Role::For | Role::With | Role::Between => !(parted && content_follows),
            },
            _ => false,
        };
        if attaches {
            now.who = Some(said.who.clone());
            now.role = Some(said.role);
            now.closed = true;
            return Some(());
        }
        let shared = now.split.is_some() || now.ratio.is_some();
        match (&now.who, &now.content) {
            (None, None) => {}
            // "Tom's not hungry so just 60 for him"
            (Some(who), Some(_)) if !now.closed && !content_follows && *who == said.who => {
                now.closed = true;
                return Some(());
            }
            // "3 ways, me, Ana and Tom"; "me and Ana with Tom"
            (Some(who), _)
                if !content_follows
                    && (shared || now.content.is_none() || matches!(who, Who::Count(_))) =>
            {
                now.who = Some(who.clone().and(said.who.clone())?);
                return Some(());
            }
            // "Ana gave me a third of her 300 rice"
            (Some(_), None) if said.role == Role::Given => {
                now.giver = now.who.take();
            }
            (Some(who), None) if !now.nothing => {
                // "for the two of us, me and Ana: ..."
                let both = who.clone().and(said.who.clone())?;
                now.who = Some(both);
                return Some(());
            }
            _ => self.next(),
        }
        self.now.who = Some(said.who.clone());
        self.now.role = Some(said.role);
        self.now.finishes = said.finishes;
        Some(())
    }

    fn when(&mut self, day: Option<Day>, meal: Option<MealName>, parted: bool, after: &[Mark]) {
        let follows = after
            .iter()
            .find(|mark| !matches!(mark, Mark::When(..) | Mark::Talk));
        let ends = matches!(follows, None | Some(Mark::Break { colon: false }));
        if self.now.content.is_some() && parted && !ends {
            let theirs = day.is_some() && !self.now.closed;
            self.goes_on = self.now.who.clone().filter(|_| theirs);
            self.next();
        }
        let led = self.now.content.is_none();
        // "lunch 120 dal, dinner 180 rice" keeps the day.
        if day.is_some() {
            self.now.day = day;
            self.now.day_led = led;
        }
        if meal.is_some() {
            self.now.meal = meal;
            self.now.meal_led = led;
        }
    }

    /// Whether more may be put on what is being told.
    fn grows(&self, held: &Content, parted: bool) -> bool {
        let named = matches!(held, Content::Name(_));
        let dated = self.now.day.is_some() && !self.now.day_led
            || self.now.meal.is_some() && !self.now.meal_led;
        named || !(self.now.closed || parted && dated)
    }

    fn content(
        &mut self,
        content: &Content,
        parted: bool,
        apart: bool,
        after: &[Mark],
    ) -> Option<()> {
        if self.now.nothing {
            // "Tom skipped the rice, had 260 chilli"
            if matches!(content, Content::Name(_)) {
                return Some(());
            }
            let who = self.now.who.clone();
            self.next();
            self.now.who = who;
        }
        let Some(held) = &self.now.content else {
            self.now.content = Some(content.clone());
            // "yesterday Tom had 120 rice, today 60 rice", unless it is somebody else's.
            let mut rest = after.iter();
            let behind = rest.find(|mark| matches!(mark, Mark::Who(_) | Mark::Content(_)));
            let goes_on = self
                .goes_on
                .take()
                .filter(|_| !matches!(behind, Some(Mark::Who(_))));
            self.now.who = self.now.who.take().or(goes_on);
            return Some(());
        };
        // "soup for Tom, 240", but "dal, Ana 140"
        let owned = matches!(
            after.iter().find(|mark| !matches!(mark, Mark::When(..) | Mark::Talk)),
            Some(Mark::Who(said)) if said.role != Role::Subject
        ) && !self.now.closed
            && parted;
        // "my hair is a bowl of soup, 90": with words between, a number is not the name's.
        let strange = apart
            && matches!(
                (held, content),
                (Content::Name(_), Content::Sizes(_)) | (Content::Sizes(_), Content::Name(_))
            );
        if strange {
            return None;
        }
        if let Some(joined) = joined(held, content).filter(|_| !owned && self.grows(held, parted)) {
            self.now.content = Some(joined);
            return Some(());
        }
        // "Ana had 100 rice, 50 beans": still hers.
        let sized = |content: &Content| matches!(content, Content::Sizes(_) | Content::Part(_));
        let leads = !self.now.closed && parted && !sized(content) && !sized(held);
        let who = self.now.who.clone().filter(|_| leads);
        self.next();
        self.now.who = who;
        self.now.content = Some(content.clone());
        Some(())
    }
}

/// A name and how much of it, or more things on the same plate.
fn joined(held: &Content, more: &Content) -> Option<Content> {
    let item = |name: &crate::lang::syntax::Words, sizes: &[Size]| match sizes {
        [Size::Amount(amount)] => Some(Content::Items(vec![Item::new(
            amount.clone(),
            name.clone(),
        )])),
        [Size::Part(part)] => Some(Content::Items(vec![Item::new(
            Amount::Share(*part),
            name.clone(),
        )])),
        [size @ (Size::Times(_) | Size::Against(..) | Size::More(..) | Size::OfRest(_))] => {
            Some(Content::Sized(size.clone(), name.clone()))
        }
        _ => None,
    };
    match (held, more) {
        (Content::Name(name), Content::Sizes(sizes))
        | (Content::Sizes(sizes), Content::Name(name)) => item(name, sizes),
        (Content::Name(name), Content::Part(size)) => item(name, std::slice::from_ref(size)),
        (Content::Items(items), Content::Items(more)) => {
            Some(Content::Items([items.clone(), more.clone()].concat()))
        }
        _ => None,
    }
}

impl Telling {
    /// Somebody else is named before what they had.
    pub fn leads(&self) -> bool {
        let others =
            |who: &Who| matches!(who, Who::Named(named) if named.iter().any(Option::is_some));
        self.content.is_some() && !self.closed && self.who.as_ref().is_some_and(others)
    }

    fn is_empty(&self) -> bool {
        self.content.is_none()
            && self.who.is_none()
            && self.ratio.is_none()
            && self.split.is_none()
            && self.day.is_none()
            && self.meal.is_none()
    }
}

/// The day after one that is told by its name.
fn next_day(day: Day) -> Option<Day> {
    match day {
        Day::Weekday(day) => Some(Day::Weekday((day + 1) % 7)),
        Day::Yesterday | Day::DaysAgo(1) => Some(Day::Today),
        Day::DaysAgo(2) => Some(Day::Yesterday),
        Day::DaysAgo(days) if days > 2 => Some(Day::DaysAgo(days - 1)),
        _ => None,
    }
}

/// A day or a meal that was told before a plate holds for those after it; one told at the end holds for all.
/// `None` when a day in the middle leaves open what the next plate is of.
fn spread(tellings: &mut [Telling]) -> Option<()> {
    let any_day = tellings
        .iter()
        .rev()
        .skip(1)
        .any(|telling| telling.day.is_some());
    let any_meal = tellings
        .iter()
        .rev()
        .skip(1)
        .any(|telling| telling.meal.is_some());
    if let Some(last) = tellings.last().cloned() {
        for telling in tellings.iter_mut() {
            if !any_day && !last.day_led {
                telling.day = last.day.clone();
            }
            if !any_meal && !last.meal_led {
                telling.meal = last.meal;
            }
        }
    }
    let (mut day, mut meal, mut open) = (None, None, false);
    for telling in tellings.iter_mut() {
        match (&telling.day, telling.day_led) {
            (Some(_), true) => {
                day = telling.day.clone();
                meal = None;
            }
            (Some(_), false) => {
                open = true;
                day = telling.day.clone();
            }
            // "Tom ate 230 chilli on Monday and I had 190": of the same.
            (None, _) if open && !matches!(telling.content, Some(Content::Sizes(_))) => {
                return None;
            }
            (None, _) => telling.day = day.clone(),
        }
        match (telling.meal, telling.meal_led) {
            (Some(_), true) => meal = telling.meal,
            (Some(_), false) => {}
            (None, _) => telling.meal = meal,
        }
    }
    Some(())
}
