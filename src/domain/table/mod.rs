//! Who is at the table: everybody who ever was, what they are called now, who keeps the household, and who has left. It is
//! worked out from the rows of the people and what stands of what was told of them, so an undo takes each of it back.

pub mod answer;
pub mod problem;

use std::collections::{BTreeSet, HashMap};

use chrono::NaiveDate;

use super::ids::MemberId;
use super::personal::{PersonalBooks, PersonalFact};
use super::resolve::key;
use crate::lang;

/// What tells two of one name apart. Nobody has seen a table with more of them.
const ORDINALS: [&str; 6] = ["First", "Second", "Third", "Fourth", "Fifth", "Sixth"];

/// A longer name is cut: nobody writes it at the stove.
const NAME_WORDS_MAX: usize = 3;

#[derive(Debug, Clone, PartialEq)]
pub struct Member {
    pub id: MemberId,
    /// What answers call them: nobody else at the table is called so.
    pub name: String,
    /// The name that they came with or chose, which another may have too.
    pub called: String,
    /// What else they are called.
    pub nicknames: Vec<String>,
    /// What they were called before: it means them for as long as it means nobody else.
    pub former: Vec<String>,
    pub keeper: bool,
    /// Writes in a chat; guests and children do not.
    pub chats: bool,
    pub seat: Seat,
    pub table: AtTable,
}

/// What tells whether somebody eats here.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct AtTable {
    /// They had something on a plate on so many days of the last weeks, of as many on which anybody had.
    pub days: u32,
    pub of_days: u32,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Seat {
    Here,
    /// Gone by their own word, or out of the chat.
    Left,
    /// Taken off by whoever keeps the household.
    Removed,
}

/// Everybody, as they came and as they are.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Table {
    /// As their rows have them.
    came: Vec<Member>,
    seated: Vec<Member>,
    gone: Vec<Member>,
}

/// What words for a person mean.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Called {
    One(MemberId),
    Several(Vec<MemberId>),
    Nobody,
}

impl Table {
    pub fn of(came: Vec<Member>, told: &PersonalBooks) -> Self {
        let mut table = Self {
            came,
            ..Self::default()
        };
        table.seat(told);
        table
    }

    /// Somebody more.
    pub fn add(&mut self, member: Member, told: &PersonalBooks) {
        self.came.push(member);
        self.seat(told);
    }

    /// Who ate here on which of the last days on which anybody did: read for a message, and not carried forward.
    pub fn ate_on(&mut self, plates: &BTreeSet<(NaiveDate, MemberId)>) {
        let days: BTreeSet<NaiveDate> = plates.iter().map(|(day, _)| *day).collect();
        let all = self.came.iter_mut().chain(&mut self.seated);
        for member in all.chain(&mut self.gone) {
            let own = plates.iter().filter(|(_, whose)| *whose == member.id);
            member.table = AtTable {
                days: own.count() as u32,
                of_days: days.len() as u32,
            };
        }
    }

    /// Those who are at the table, in the order in which they came.
    pub fn seated(&self) -> &[Member] {
        &self.seated
    }

    /// Those who were and are not.
    pub fn gone(&self) -> &[Member] {
        &self.gone
    }

    pub fn get(&self, id: MemberId) -> Option<&Member> {
        let mut all = self.seated.iter().chain(&self.gone);
        all.find(|member| member.id == id)
    }

    pub fn is_seated(&self, id: MemberId) -> bool {
        self.seated.iter().any(|member| member.id == id)
    }

    pub fn keeper(&self) -> Option<&Member> {
        self.seated.iter().find(|member| member.keeper)
    }

    /// Whom words mean: by what tells them apart, by a name, by the first word of a longer one, by a former name.
    pub fn called(&self, words: &str) -> Called {
        let wanted = key(words);
        let by = |means: &dyn Fn(&Member) -> bool| {
            let found = self.seated.iter().filter(|member| means(member));
            found.map(|member| member.id).collect::<Vec<_>>()
        };
        let told_apart = by(&|member| member.is_told_apart() && key(&member.name) == wanted);
        let named = by(&|member| member.names().any(|name| key(name) == wanted));
        let short = by(&|member| first_word(&member.called).is_some_and(|it| key(it) == wanted));
        let before = by(&|member| member.former.iter().any(|name| key(name) == wanted));
        let found = [told_apart, named, short, before].into_iter();
        match found.into_iter().find(|found| !found.is_empty()).as_deref() {
            None => Called::Nobody,
            Some([only]) => Called::One(*only),
            Some(several) => Called::Several(several.to_vec()),
        }
    }

    /// Whoever left and had this name, if that is one person.
    pub fn gone_by_name(&self, words: &str) -> Option<&Member> {
        let wanted = key(words);
        let of_name = |member: &&Member| member.names().any(|name| key(name) == wanted);
        let mut found = self.gone.iter().filter(of_name);
        let first = found.next()?;
        found.next().is_none().then_some(first)
    }

    /// Work out anew who is here by what stands now.
    pub fn seat(&mut self, told: &PersonalBooks) {
        let named = |came: &Member| Member {
            called: told
                .last(came.id, name)
                .unwrap_or_else(|| shortened(&came.called)),
            nicknames: told.all(came.id, nickname),
            former: former(came, told),
            seat: told.last(came.id, seat).unwrap_or(came.seat),
            ..came.clone()
        };
        let everybody: Vec<Member> = self.came.iter().map(named).collect();
        let (mut seated, mut gone): (Vec<Member>, Vec<Member>) = everybody
            .into_iter()
            .partition(|member| member.seat == Seat::Here);
        let keeper = keeper(&seated, told);
        let names = told_apart(&seated);
        for (member, name) in seated.iter_mut().zip(names) {
            member.keeper = Some(member.id) == keeper;
            member.name = name;
        }
        for member in &mut gone {
            member.keeper = false;
            member.name = member.called.clone();
        }
        (self.seated, self.gone) = (seated, gone);
    }
}

impl Member {
    /// As somebody comes to the table.
    pub fn new(id: MemberId, name: &str, chats: bool) -> Self {
        Self {
            id,
            name: name.to_owned(),
            called: name.to_owned(),
            nicknames: Vec::new(),
            former: Vec::new(),
            keeper: false,
            chats,
            seat: Seat::Here,
            table: AtTable::default(),
        }
    }

    /// What they were called themselves, and what else they are called.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        let nicknames = self.nicknames.iter().map(String::as_str);
        std::iter::once(self.called.as_str()).chain(nicknames)
    }

    /// Somebody else has their name, so another is put before it.
    pub fn is_told_apart(&self) -> bool {
        self.name != self.called
    }

    /// All words that mean them, for the language.
    pub fn words(&self) -> impl Iterator<Item = &str> {
        let more = [Some(self.name.as_str()), first_word(&self.called)];
        let former = self.former.iter().map(String::as_str);
        self.names().chain(more.into_iter().flatten()).chain(former)
    }
}

/// Who was made it last and is here; or who let the bot in; or who came first of those who write.
fn keeper(seated: &[Member], told: &PersonalBooks) -> Option<MemberId> {
    let made = told.latest(|fact| matches!(fact, PersonalFact::Keeper));
    let here = |id: &MemberId| seated.iter().any(|member| member.id == *id);
    let made = made.into_iter().find(here);
    let let_in = || seated.iter().find(|member| member.keeper);
    let first = || seated.iter().find(|member| member.chats);
    made.or_else(|| let_in().or_else(first).map(|member| member.id))
}

/// What each is called so that nobody else is.
fn told_apart(seated: &[Member]) -> Vec<String> {
    let mut bearers: HashMap<String, Vec<MemberId>> = HashMap::new();
    for member in seated {
        for name in member.names() {
            let bearers = bearers.entry(key(name)).or_default();
            if !bearers.contains(&member.id) {
                bearers.push(member.id);
            }
        }
    }
    let own = |member: &Member| {
        let sharing = &bearers[&key(&member.called)];
        let place = sharing.iter().position(|id| *id == member.id);
        let ordinal = place.and_then(|place| ORDINALS.get(place));
        match ordinal.filter(|_| sharing.len() > 1) {
            Some(ordinal) => format!("{ordinal} {}", member.called),
            None => member.called.clone(),
        }
    };
    seated.iter().map(own).collect()
}

/// "Robin" of "Robin Ash", where that may be somebody's name.
fn first_word(name: &str) -> Option<&str> {
    let (first, _) = name.split_once(' ')?;
    lang::may_be_a_name(first).then_some(first)
}

fn shortened(name: &str) -> String {
    let words: Vec<&str> = name.split_whitespace().take(NAME_WORDS_MAX).collect();
    words.join(" ")
}

/// All names before the last, and what the first of each short enough to be a name is: "Robin" of "Robin Ash".
fn former(came: &Member, told: &PersonalBooks) -> Vec<String> {
    let mut names = vec![shortened(&came.called)];
    names.extend(told.all(came.id, name));
    names.pop();
    let short: Vec<String> = names
        .iter()
        .filter_map(|it| first_word(it))
        .map(str::to_owned)
        .collect();
    names.extend(short);
    names
}

fn name(fact: &PersonalFact) -> Option<String> {
    match fact {
        PersonalFact::Name(name) => Some(name.clone()),
        _ => None,
    }
}

fn nickname(fact: &PersonalFact) -> Option<String> {
    match fact {
        PersonalFact::Nickname(name) => Some(name.clone()),
        _ => None,
    }
}

fn seat(fact: &PersonalFact) -> Option<Seat> {
    match fact {
        PersonalFact::Here(true) => Some(Seat::Here),
        PersonalFact::Here(false) => Some(Seat::Left),
        PersonalFact::Removed => Some(Seat::Removed),
        _ => None,
    }
}
