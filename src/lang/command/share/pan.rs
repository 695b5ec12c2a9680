//! The tellings of one dish together: the one that names it, and those that only say how much of it.

use super::by_name::Entry;
use super::content::Content;
use super::party::{Role, Who};
use super::size::Size;
use super::solve::Claim;
use super::telling::Telling;
use crate::lang::syntax::{Amount, Eater, Item, Words};

#[derive(Debug, Clone)]
pub struct Pan {
    /// Names the dish.
    pub told: Telling,
    /// Say how much, before the dish was named and behind it.
    before: Vec<Telling>,
    behind: Vec<Telling>,
}

/// The pans in the order of the text; `None` when something is said of no dish.
pub fn pans(tellings: Vec<Telling>) -> Option<Vec<Pan>> {
    let mut pans: Vec<Pan> = Vec::new();
    let mut early: Vec<Telling> = Vec::new();
    let mut named: Vec<Eater> = Vec::new();
    for mut telling in tellings {
        // "140 dal for me, 120 for Ana, 60 rice each": for those who were named.
        let unsaid = telling.who.is_none() && telling.each && telling.split.is_none();
        let counted = match telling.who {
            Some(Who::Count(people)) => people as usize == named.len(),
            _ => false,
        };
        if (unsaid || counted) && named.len() > 1 && !pans.is_empty() {
            telling.who = Some(Who::Named(named.clone()));
            telling.each |= counted;
        }
        if let Some(Who::Named(who)) = &telling.who {
            for eater in who {
                if !named.contains(eater) {
                    named.push(eater.clone());
                }
            }
        }
        let size = match &telling.content {
            Some(Content::Sized(size, name)) => {
                let told = Telling {
                    content: Some(Content::Name(name.clone())),
                    ..Telling::default()
                };
                let size = Some(Content::Sizes(vec![size.clone()]));
                let behind = vec![Telling {
                    content: size,
                    ..telling
                }];
                pans.push(Pan {
                    told,
                    before: std::mem::take(&mut early),
                    behind,
                });
                continue;
            }
            Some(Content::Sizes(_) | Content::Part(_)) | None => true,
            _ => false,
        };
        match pans.last_mut() {
            Some(pan) if size => pan.behind.push(telling),
            Some(pan) if pan.goes_on_with(&telling) => pan.behind.push(of_same(telling)),
            None if size => early.push(telling),
            _ => pans.push(Pan {
                told: telling,
                before: std::mem::take(&mut early),
                behind: Vec::new(),
            }),
        }
    }
    (early.is_empty() && !pans.is_empty()).then_some(pans)
}

/// A share of a dish that was named before, without its name.
fn of_same(telling: Telling) -> Telling {
    let size = match &telling.content {
        Some(Content::Items(items)) => match items[0].amount {
            Amount::Share(share) => Some(Content::Sizes(vec![Size::Part(share)])),
            _ => None,
        },
        _ => None,
    };
    Telling {
        content: size,
        who: telling.who.clone().or(Some(Who::sender())),
        ..telling
    }
}

impl Pan {
    pub fn others(&self) -> Vec<&Telling> {
        self.before.iter().chain(&self.behind).collect()
    }

    pub fn all(&self) -> impl Iterator<Item = &Telling> {
        self.before
            .iter()
            .chain(std::iter::once(&self.told))
            .chain(&self.behind)
    }

    pub fn is_alone(&self) -> bool {
        self.before.is_empty() && self.behind.is_empty()
    }

    /// "1/4 of the salsa for me, 1/4 of the salsa for Ana": of the pot as it stood.
    fn goes_on_with(&self, telling: &Telling) -> bool {
        let share = |telling: &Telling| match &telling.content {
            Some(Content::Items(items)) => match items.as_slice() {
                [item] if matches!(item.amount, Amount::Share(_)) => Some(item.name.clone()),
                _ => None,
            },
            _ => None,
        };
        let plain = !telling.each && telling.split.is_none() && !self.told.each;
        let same = share(&self.told).is_some_and(|name| share(telling) == Some(name));
        plain && same && self.told.split.is_none()
    }

    /// What each of those people has of the whole; `own` is what the naming telling says itself.
    pub fn claims(&self, own: Option<Claim>) -> Option<Vec<Claim>> {
        let mut claims = Vec::new();
        for telling in &self.before {
            claims.extend(Claim::told(telling)?);
        }
        claims.extend(own);
        for telling in &self.behind {
            claims.extend(Claim::told(telling)?);
        }
        Some(claims)
    }

    /// Each telling as a plate of its own; those without a name go by it.
    pub fn entries(&self) -> Vec<Entry> {
        let name = match &self.told.content {
            Some(Content::Items(items)) => match items.as_slice() {
                [item] => Some(item.name.clone()),
                _ => None,
            },
            _ => None,
        };
        let entry = |telling: &Telling| Entry {
            telling: telling.clone(),
            name: name.clone(),
        };
        self.all().map(entry).collect()
    }

    /// Each telling as a plate of what was named; `None` when one of them is a part of the pot.
    pub fn named_entries(&self, name: &Words) -> Option<Vec<Entry>> {
        let entry = |telling: &Telling| {
            let absolute = matches!(
                telling.size(),
                Some(Size::Amount(_) | Size::Times(_) | Size::Against(..) | Size::More(..))
            );
            let who = telling.who.clone().or(self.told.who.clone());
            absolute.then(|| Entry {
                telling: Telling {
                    who,
                    ..telling.clone()
                },
                name: Some(name.clone()),
            })
        };
        self.before.iter().chain(&self.behind).map(entry).collect()
    }

    /// "500 soup, 3 ways: me, Ana, Tom": what all the tellings say, as one.
    pub fn gathered(&self) -> Option<Telling> {
        let mut told = self.told.clone();
        for other in self.others() {
            told.who = match (told.who.take(), other.who.clone()) {
                (Some(one), Some(more)) => Some(one.and(more)?),
                (one, more) => one.or(more),
            };
            told.split = told.split.or(other.split);
            told.each |= other.each;
            told.role = told.role.or(other.role);
        }
        Some(told)
    }
}

impl Telling {
    /// The one person whose plate it is.
    pub fn owner(&self) -> Option<Eater> {
        let shared = matches!(self.role, Some(Role::With | Role::Between));
        let one = self.who.as_ref().and_then(Who::one).cloned();
        one.filter(|_| !shared)
    }

    /// Those at the table: "with Ana" is the sender too.
    pub fn party(&self) -> Option<Who> {
        match &self.who {
            Some(Who::Named(named)) if self.role == Some(Role::With) && !named.contains(&None) => {
                let sender = std::iter::once(None);
                Some(Who::Named(sender.chain(named.iter().cloned()).collect()))
            }
            who => who.clone(),
        }
    }

    /// The only size that it says.
    pub fn size(&self) -> Option<&Size> {
        match &self.content {
            Some(Content::Sizes(sizes)) => match sizes.as_slice() {
                [size] => Some(size),
                _ => None,
            },
            Some(Content::Part(size)) => Some(size),
            _ => None,
        }
    }

    /// "80 of it"
    pub fn takes_of_it(&self) -> bool {
        matches!(&self.content, Some(Content::Part(_)))
    }

    /// "the same", "twice that": what was said last.
    pub fn refers_to_that(&self) -> bool {
        matches!(
            self.size(),
            Some(Size::Times(_)) | Some(Size::More(_, None))
        )
    }
}

/// An item of this name.
pub fn item(amount: Amount, name: &Words) -> Item {
    Item::new(amount, name.clone())
}
