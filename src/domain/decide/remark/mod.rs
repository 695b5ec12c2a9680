//! What a message puts right of what was booked, told by the books: "320?? lol no 230".
//!
//! `lang/remark/` has cut the message into chunks and left open which of their words mean what. Here each chunk
//! is held against what the sender has booked within a short time. What is said that stands there says which
//! line is meant; what does not stand there is what it comes to: another amount, another dish, another plate.
//! Every number must be one or the other, and a line must be the only one that is meant: else nothing is.
//! What follows is told as corrections, and carried out as if they had been said so.

mod crossed;
mod each;
mod given;
mod gone;
mod less;
mod role;
mod standing;
mod swap;

use super::super::draft::Draft;
use super::super::ids::*;
use super::super::kitchen::Kitchen;
use super::super::mass::Mass;
use super::{Decision, Input, OnProblem, Outcome, Stop, carry_out, stopped};
use crate::lang::syntax::{
    Amount, Chunk, Command, Cue, Day, Figure, Fix, Item, Line, MealName, Of, Remark, Said, Term,
    Words,
};
use crossed::Crossed;
use role::{Roles, Who, claims, of_member};
use standing::{Standing, of_another, standing};

/// A slip makes no more of an amount than so many times, and no less.
const TIMES_MOST: f64 = 10.1;
/// Less is no plate of anything.
const GRAMS_LEAST: f64 = 5.0;

/// The decision that the remark comes to, if it fits what stands and puts right more than so many things.
pub fn fitting(kitchen: &Kitchen, input: &Input, remark: &Remark, told: usize) -> Option<Decision> {
    let draft = Draft::new(kitchen, input);
    let commands = match crossed::crossed(&draft, &standing(&draft), remark) {
        Some(Crossed::Others(asking)) => return Some(stopped(draft, Stop::Ask(asking))),
        Some(Crossed::Own(commands)) => commands,
        None => commands(&draft, remark).filter(|commands| commands.len() > told)?,
    };
    let decision = carry_out(draft, &commands, OnProblem::Forget);
    matches!(decision.outcome, Outcome::Recorded | Outcome::Asked).then_some(decision)
}

fn commands(draft: &Draft, remark: &Remark) -> Option<Vec<Command>> {
    let mut lines = standing(draft);
    let theirs = lines.is_empty() && (remark.wrong || !remark.talk);
    if theirs {
        lines = of_another(draft);
    }
    let tells = |cue| remark.chunks.iter().any(|chunk| chunk.has(cue));
    if lines.is_empty() && !tells(Cue::Off) {
        return None;
    }
    let amounts = remark.chunks.iter().flat_map(|chunk| &chunk.terms);
    let amounts = amounts.filter(|term| matches!(term.said, Said::Amount(..)));
    if tells(Cue::Swapped)
        && let Some(commands) = swap::commands(draft, &lines, remark)
    {
        return Some(commands);
    }
    if tells(Cue::Each) && amounts.count() == 1 {
        return each::commands(draft, &lines, remark);
    }
    let mut reader = Reader {
        draft,
        remark,
        lines,
        theirs,
        commands: Vec::new(),
        moved: None,
        about: None,
        lessened: None,
        whose: None,
        part: None,
        denied: Vec::new(),
    };
    reader.denied = reader.denied_apart();
    for chunk in &remark.chunks {
        reader.take(chunk)?;
    }
    reader.end()
}

struct Reader<'a, 'k> {
    draft: &'a Draft<'k>,
    remark: &'a Remark,
    lines: Vec<Standing>,
    /// They are somebody else's, who has booked them.
    theirs: bool,
    commands: Vec<Command>,
    /// The line that the chunk before gave to somebody.
    moved: Option<(usize, MemberId)>,
    /// The line that a chunk only names, before another tells what it comes to: "the rice is wrong: 90".
    about: Option<usize>,
    /// The line that a chunk before has made less, and by how much.
    lessened: Option<(usize, Mass)>,
    /// Whose plate a chunk before tells of.
    whose: Option<Who>,
    /// "the dog got 40 of that", before what was left is told.
    part: Option<(Amount, Mass)>,
    /// Lines that a chunk of its own denies, until another says what there was instead.
    denied: Vec<Denied>,
}

#[derive(Clone, Copy)]
struct Denied {
    line: usize,
    /// "no butter": nothing stands in its place.
    gone: bool,
}

impl Reader<'_, '_> {
    /// "not dal": the lines that are denied in a chunk which says nothing else.
    fn denied_apart(&self) -> Vec<Denied> {
        let mut out = Vec::new();
        for chunk in &self.remark.chunks {
            let Some(roles) = Roles::of(self.draft, &self.lines, chunk) else {
                continue;
            };
            let alone = roles.amount.is_none() && roles.name.is_none() && roles.who.is_none();
            if alone && roles.denied && (roles.quoted || !chunk.open_behind) {
                let gone = chunk.has(Cue::No);
                out.extend(roles.lines.into_iter().map(|line| Denied { line, gone }));
            }
        }
        out
    }

    fn take(&mut self, chunk: &Chunk) -> Option<()> {
        let mut roles = Roles::of(self.draft, &self.lines, chunk)?;
        let moved = self.moved.take();
        if let Some(less) = roles.less {
            return self.lessen(chunk, &roles, less);
        }
        if chunk.has(Cue::Back) && !chunk.has(Cue::Off) {
            return self.put_back(chunk, &roles);
        }
        self.whose = less::told_of(&roles).or(self.whose.take());
        let gone = chunk.has(Cue::Off) || chunk.has(Cue::Uneaten) && roles.told;
        if gone && !chunk.has(Cue::Given) {
            return self.remove(chunk, &roles);
        }
        // "Robin only wants 100 of that"
        if chunk.has(Cue::Sets) {
            roles.amount = roles.amount.or_else(|| roles.part.take());
        }
        if let Some(part) = roles.handed() {
            return self.give_part(chunk, &roles, part);
        }
        if let Some(when) = roles.when.clone()
            && roles.amount.is_none()
            && roles.name.is_none()
        {
            return self.when(chunk, &roles, when);
        }
        if self.over(chunk, &roles).is_some() {
            return Some(());
        }
        if chunk.has(Cue::Given) {
            return self.give(chunk, &roles);
        }
        if self.is_for(chunk, &roles) {
            let who = roles.who.clone()?;
            return self.hand_over(&roles, &who);
        }
        if let Some((amount, mass)) = roles.amount.clone() {
            // "today I had 140": another plate, and not what this one comes to.
            let mine = |who: &Who| who.member == Some(self.draft.input.sender) && !who.owns;
            if roles.when.is_some() && roles.who.as_ref().is_some_and(mine) {
                return None;
            }
            // "breakfast was 63 dal", of a lunch: another plate as well.
            let of = |meal: MealName| self.lines.iter().any(|it| it.is_of(self.draft, meal));
            if let Some((_, Some(meal))) = roles.when
                && !of(meal)
            {
                return None;
            }
            if let Some((_, part)) = self.part.take() {
                roles
                    .lines
                    .retain(|&at| self.lines[at].portion.mass == part + mass);
                roles.told = true;
                roles.quoted = true;
                roles.reckoned = true;
            }
            return self.amount(chunk, roles, (amount, mass), moved);
        }
        // "going out for tea"
        let beside = chunk.cues.is_empty() && !chunk.stands_alone() && !roles.told;
        if let Some(name) = roles.name.clone().filter(|_| !beside) {
            return self.rename(chunk, &roles, name, None);
        }
        let said = |who: &Who| who.owns || chunk.has(Cue::Is) && roles.quoted;
        if let Some(who) = roles.who.clone().filter(said) {
            return self.owner(chunk, &roles, &who, moved.is_some());
        }
        if roles.told && !roles.denied && !chunk.has(Cue::Right) {
            self.about = self.one(&roles.lines);
        }
        Some(())
    }

    /// The one line that is meant: of the newest act that has any such.
    fn one(&self, lines: &[usize]) -> Option<usize> {
        let newest = lines.iter().map(|&at| self.lines[at].age).min()?;
        let mut of_it = lines
            .iter()
            .copied()
            .filter(|&at| self.lines[at].age == newest);
        let first = of_it.next()?;
        of_it.next().is_none().then_some(first)
    }

    /// Without a word that says which, only what was booked last can be meant.
    fn last(&self) -> Option<usize> {
        let all: Vec<usize> = (0..self.lines.len())
            .filter(|&at| self.lines[at].age == 0)
            .collect();
        self.one(&all)
    }

    fn fix(&mut self, fix: Fix) {
        let command = Command::Fix(fix);
        if !self.commands.contains(&command) {
            self.commands.push(command);
        }
    }

    /// What was denied of this line is told now.
    fn settle(&mut self, at: usize) {
        self.denied.retain(|denied| denied.line != at);
    }

    /// The one line that was denied.
    fn one_denied(&self) -> Option<usize> {
        match self.denied[..] {
            [Denied { line, .. }] => Some(line),
            _ => None,
        }
    }

    /// The line that is meant comes to another amount, and maybe is another dish.
    fn amount(
        &mut self,
        chunk: &Chunk,
        mut roles: Roles,
        new: (Amount, Mass),
        moved: Option<(usize, MemberId)>,
    ) -> Option<()> {
        if let Some(at) = self.of_others(chunk, &roles) {
            return self.beside(at, self.draft.input.sender, new.0);
        }
        let affirmed = self.remark.affirms() && roles.told;
        let claimed =
            claims(chunk) || affirmed || self.remark.wrong || roles.denied || roles.reckoned;
        let wrong = self.remark.wrong;
        let named = roles.told;
        let owner = roles.who.clone().filter(|who| who.owns || wrong);
        if let Some(who) = &owner {
            let theirs = of_member(&roles.lines, &self.lines, who, self.draft.input.sender);
            if let (Some((at, whose)), Some(member)) = (moved, who.member)
                && !roles.told
                && whose != member
                && claimed
            {
                return self.beside(at, member, new.0);
            }
            roles.lines = theirs;
            roles.told = true;
        }
        let Some(name) = roles.name.clone() else {
            let at = self.meant(chunk, &roles)?;
            if !(claimed || self.one_denied() == Some(at))
                || !self.plausible(at, new.1, roles.quoted)
            {
                return None;
            }
            self.settle(at);
            let line = &self.lines[at];
            let less = line.portion.mass.mg() - new.1.mg();
            self.lessened = (less > 0).then(|| (at, Mass::from_mg(less)));
            let like = |other: &&Standing| {
                other.name == line.name && other.portion.mass == line.portion.mass
            };
            let twins = self.lines.iter().filter(like).count() > 1;
            let owner = self.draft.kitchen.member(line.member).filter(|_| twins);
            let line = Line {
                old: Some(Amount::Mass(line.portion.mass.grams())),
                name: Some(line.name.clone()),
                owner: owner.map(|owner| Words::plain(owner.name.clone())),
                ..Line::default()
            };
            let new = match new.0 {
                // Grams where grams stand: "3 not 33".
                Amount::Bare(grams) if roles.quoted => Figure::Is(Amount::Mass(grams)),
                amount => Figure::Is(amount),
            };
            self.fix(Fix::Amount { new, line });
            return Some(());
        };
        // Whose line it is does not tell that it was another dish.
        roles.told = named;
        self.rename(chunk, &roles, name, Some(new))
    }

    /// "hers was 130 and I had 100": where all that stands is other people's and was just put right, what the sender
    /// had is another plate of the same.
    fn of_others(&self, chunk: &Chunk, roles: &Roles) -> Option<usize> {
        let sender = self.draft.input.sender;
        let mine = roles.who.as_ref()?.member == Some(sender);
        let first = self.lines.first()?;
        let other = |line: &Standing| line.member != sender && line.name == first.name;
        let apart = self.lines.iter().all(other) && !self.commands.is_empty();
        (mine && apart && !roles.told && roles.name.is_none() && chunk.stands_alone()).then_some(0)
    }

    /// Words around it may make something else of what names a line only; an amount that stands is no chance.
    fn meant(&self, chunk: &Chunk, roles: &Roles) -> Option<usize> {
        if roles.quoted && (self.remark.wrong || !chunk.open_before) {
            return self.one(&roles.lines).filter(|_| !chunk.open_behind);
        }
        if roles.told {
            return self.one(&roles.lines).filter(|_| !chunk.open_behind);
        }
        if self.about.is_some() && !chunk.open_behind {
            return self.about;
        }
        // "not 150 lads, 115"
        if let Some(denied) = self.one_denied() {
            return Some(denied).filter(|_| chunk.stands_alone());
        }
        let corrects = self.remark.wrong || chunk.has(Cue::Right);
        let sets = !self.remark.talk || chunk.has(Cue::Sets);
        self.last()
            .filter(|_| chunk.stands_alone() && corrects && sets)
    }

    fn plausible(&self, at: usize, new: Mass, quoted: bool) -> bool {
        let old = self.lines[at].portion.mass.grams();
        let times = new.grams() / old;
        let slip = (1.0 / TIMES_MOST..=TIMES_MOST).contains(&times);
        quoted || slip && new.grams() >= GRAMS_LEAST
    }

    /// "nah wasn't salsa, it was beans": what stands there is the old dish, what does not the new one.
    fn rename(
        &mut self,
        chunk: &Chunk,
        roles: &Roles,
        new: Words,
        amount: Option<(Amount, Mass)>,
    ) -> Option<()> {
        let corrects = self.remark.wrong || roles.denied || chunk.has(Cue::Sets);
        let at = if roles.told && corrects {
            self.one(&roles.lines)?
        } else if let Some(denied) = self.one_denied() {
            denied
        } else {
            let claimed = claims(chunk) || self.says_only(chunk);
            let plain = amount.is_none() && corrects && claimed && chunk.stands_alone();
            self.last().filter(|_| plain && !roles.told)?
        };
        self.settle(at);
        let fix = Fix::Name {
            new,
            old: Some(self.lines[at].name.clone()),
            amount: amount.map(|(amount, _)| amount),
        };
        self.fix(fix);
        Some(())
    }

    /// "sorry, the barley": a dish, and that something was written wrong. "Sorry, the new stew" chooses among
    /// pots of a dish, of which none stands.
    fn says_only(&self, chunk: &Chunk) -> bool {
        let chooses = |word: &str| matches!(word, "new" | "old" | "other" | "fresh");
        let chosen = |term: &Term| match &term.said {
            Said::Name(name) => name.text.to_lowercase().split(' ').any(chooses),
            _ => false,
        };
        if chunk.terms.iter().any(chosen) {
            return false;
        }
        let others = self.remark.chunks.iter().filter(|other| *other != chunk);
        let silent = others.clone().all(|other| other.terms.is_empty());
        self.remark.owned_up && !self.remark.talk && silent && chunk.terms.len() == 1
    }

    /// "that was yesterday's lunch actually", "the dal was yesterday", "Tuesday I mean"
    fn when(
        &mut self,
        chunk: &Chunk,
        roles: &Roles,
        (day, meal): (Option<Day>, Option<MealName>),
    ) -> Option<()> {
        let sender = Some(self.draft.input.sender);
        let owner = roles.who.as_ref().filter(|who| who.owns);
        let mine = owner.is_some_and(|who| who.member == sender);
        let that = roles.told || mine || chunk.has(Cue::That);
        let tells = chunk.has(Cue::Is) || chunk.has(Cue::Given);
        // "i meant tomorrow" is not of what somebody else has eaten.
        let claimed = tells && that || chunk.has(Cue::Sets) && (that || !self.theirs);
        if !claimed || owner.is_some() && !mine || chunk.open_behind {
            return Some(());
        }
        let of = match roles.told {
            true => Of::Named(self.lines[self.one(&roles.lines)?].name.clone()),
            false if chunk.stands_alone() => Of::Last,
            false => return Some(()),
        };
        self.fix(Fix::When { day, meal, of });
        Some(())
    }

    /// What is denied beside a correction is gone: "actually no butter, and the dal was 130".
    fn end(mut self) -> Option<Vec<Command>> {
        if self.commands.is_empty() || self.part.is_some() {
            return None;
        }
        for Denied { line, gone } in std::mem::take(&mut self.denied) {
            if gone {
                self.fix(Fix::Remove(Line::named(self.lines[line].name.clone())));
            }
        }
        self.commands
            .sort_by_key(|command| matches!(command, Command::Fix(Fix::When { .. })));
        Some(self.commands)
    }
}

fn item(mass: Mass, name: Words) -> Item {
    Item::new(Amount::Mass(mass.grams()), name).at(0..0)
}
