//! The names of somebody who is deleted, in what others wrote and in what waits to be sent. A name that is a food as well
//! ("Rosemary") is taken out of what people said, and of what things are called only where it is somebody's ("Rosemary's
//! mug").

use sqlx::{AssertSqlSafe, Row};

use crate::domain::resolve;
use crate::foods;
use crate::store::Transaction;
use crate::store::archive::Shape;
use crate::store::error::{Doing, Result};
use crate::store::household::HouseholdId;

/// What stands in their place.
const SOMEONE: &str = "someone";

/// Columns that hold words of people, by their names in any table.
pub(super) const WORDS: [&str; 16] = [
    "amount",
    "body",
    "description",
    "measure",
    "name",
    "note",
    "options",
    "packet",
    "part",
    "reason",
    "said",
    "sender_name",
    "text",
    "things",
    "word",
    "words",
];

/// The same, folded.
const KEY: &str = "name_key";

/// What people said, rather than what things are called.
const TALK: [&str; 3] = ["message", "question", "reminder"];

/// So many things of one name.
const NAMESAKES_MAX: usize = 1000;

pub(super) async fn forget(
    transaction: &mut Transaction,
    household: HouseholdId,
    names: &[String],
) -> Result<()> {
    let names = Names::new(names, &transaction.names_of_others(household).await?);
    for shape in transaction.shapes().await? {
        transaction.forget_names(household, &shape, &names).await?;
    }
    transaction.forget_names_unsent(household, &names).await
}

impl Transaction {
    /// Whoever is here still keeps a name, if it is theirs too.
    async fn names_of_others(&mut self, household: HouseholdId) -> Result<Vec<String>> {
        sqlx::query_scalar(
            "select m.name from member m where m.household_id = ?1 and m.left_at is null
             union select p.words from personal p
                   join member m on m.household_id = p.household_id and m.member_id = p.about_id
                   where p.household_id = ?1 and p.words is not null and m.left_at is null",
        )
        .bind(household.0)
        .fetch_all(self.connection())
        .await
        .doing("look up names")
    }

    async fn forget_names(
        &mut self,
        household: HouseholdId,
        shape: &Shape,
        names: &Names,
    ) -> Result<()> {
        let columns = shape.columns.iter().map(|column| column.name.as_str());
        let words: Vec<&str> = columns.filter(|name| WORDS.contains(name)).collect();
        if words.is_empty() || !shape.by_household {
            return Ok(());
        }
        let keyed = shape.columns.iter().any(|column| column.name == KEY);
        let talk = TALK.contains(&shape.name.as_str());
        let (table, keys) = (&shape.name, &shape.key);
        let sql = format!(
            "select {}, {} from \"{table}\" where household_id = ?",
            keys.join(", "),
            words.join(", ")
        );
        let rows = sqlx::query(AssertSqlSafe(sql))
            .bind(household.0)
            .fetch_all(self.connection())
            .await
            .doing("look for a name")?;
        for row in rows {
            let key = (0..keys.len()).map(|at| row.try_get::<i64, _>(at));
            let key: Vec<i64> = key
                .collect::<std::result::Result<_, _>>()
                .doing("read a key")?;
            for (at, column) in words.iter().enumerate() {
                let text: Option<String> = row.try_get(keys.len() + at).doing("read a text")?;
                let Some(without) = text.and_then(|text| names.without(&text, talk)) else {
                    continue;
                };
                let folds = keyed && ["name", "words"].contains(column);
                self.rename(shape, &key, column, &without, folds).await?;
            }
        }
        Ok(())
    }

    /// A name that another thing has already gets a number.
    async fn rename(
        &mut self,
        shape: &Shape,
        key: &[i64],
        column: &str,
        text: &str,
        folds: bool,
    ) -> Result<()> {
        let folded = match folds {
            true => format!(", {KEY} = ?"),
            false => String::new(),
        };
        let whose = shape.key.iter().map(|name| format!("\"{name}\" = ?"));
        let whose: Vec<String> = whose.collect();
        let sql = format!(
            "update \"{}\" set \"{column}\" = ?{folded} where {}",
            shape.name,
            whose.join(" and ")
        );
        for again in 1.. {
            let text = match again {
                1 => text.to_owned(),
                _ => format!("{text} {again}"),
            };
            let mut query = sqlx::query(AssertSqlSafe(sql.clone())).bind(&text);
            if folds {
                query = query.bind(resolve::key(&text));
            }
            for number in key {
                query = query.bind(number);
            }
            match query.execute(self.connection()).await {
                Err(error)
                    if again < NAMESAKES_MAX
                        && error
                            .as_database_error()
                            .is_some_and(|error| error.is_unique_violation()) => {}
                done => return done.doing("delete a name").map(drop),
            }
        }
        Ok(())
    }

    /// What waits to be sent and names them is not sent.
    async fn forget_names_unsent(&mut self, household: HouseholdId, names: &Names) -> Result<()> {
        let rows: Vec<(i64, String)> = sqlx::query_as(
            "select o.outbox_id, o.body || ' ' || o.buttons || ' ' || o.data || ' ' || coalesce(o.picture, '')
             from outbox o join chat c on c.channel = o.channel and c.chat = o.chat
             where c.household_id = ? and o.sent_at is null and o.failed_at is null",
        )
        .bind(household.0)
        .fetch_all(self.connection())
        .await
        .doing("look for a name in answers")?;
        for (id, said) in rows {
            if names.without(&said, true).is_some() {
                let sql = format!("{} where outbox_id = ?", super::member::EMPTY_ANSWER);
                self.carry_out(&sql, &[id]).await?;
            }
        }
        Ok(())
    }
}

/// What is to be taken out, the longest first.
struct Names(Vec<String>);

impl Names {
    /// Whole names and each word of them, as others may have used that alone.
    fn new(names: &[String], others: &[String]) -> Self {
        let parts = |names: &[String]| {
            let whole = names.iter().map(|name| name.trim().to_lowercase());
            let words = names.iter().flat_map(|name| name.split_whitespace());
            let words = words
                .filter(|word| word.chars().count() > 2)
                .map(str::to_lowercase);
            let escaped = names.iter().map(|name| {
                let json = serde_json::Value::from(name.trim().to_lowercase()).to_string();
                json[1..json.len() - 1].to_owned()
            });
            whole.chain(words).chain(escaped).collect::<Vec<String>>()
        };
        let others = parts(others);
        let mut names: Vec<String> = parts(names)
            .into_iter()
            .filter(|name| name.chars().any(char::is_alphanumeric) && !others.contains(name))
            .collect();
        names.sort_by_key(|name| std::cmp::Reverse(name.len()));
        names.dedup();
        Self(names)
    }

    /// A text with "someone" for each of them; `None` where none stands in it.
    fn without(&self, text: &str, talk: bool) -> Option<String> {
        let mut out = String::with_capacity(text.len());
        let mut rest = text;
        let mut before: Option<char> = None;
        while let Some(first) = rest.chars().next() {
            let begins = !before.is_some_and(char::is_alphanumeric);
            let found =
                begins.then(|| self.0.iter().find_map(|name| begins_with(rest, name, talk)));
            let length = match found.flatten() {
                Some(length) => {
                    out.push_str(SOMEONE);
                    length
                }
                None => {
                    out.push(first);
                    first.len_utf8()
                }
            };
            before = rest[..length].chars().next_back();
            rest = &rest[length..];
        }
        (out != text).then_some(out)
    }
}

/// How long the name is with which the text begins, however it is written and broken over lines.
fn begins_with(text: &str, name: &str, talk: bool) -> Option<usize> {
    let mut left = text.char_indices().peekable();
    let mut wanted = name.chars().peekable();
    while let Some(next) = wanted.peek().copied() {
        if next.is_whitespace() {
            left.next_if(|(_, character)| character.is_whitespace())?;
            while left
                .next_if(|(_, character)| character.is_whitespace())
                .is_some()
            {}
            while wanted
                .next_if(|character| character.is_whitespace())
                .is_some()
            {}
            continue;
        }
        let (_, character) = left.next()?;
        for folded in character.to_lowercase() {
            if wanted.next() != Some(folded) {
                return None;
            }
        }
    }
    let end = left.peek().map_or(text.len(), |(at, _)| *at);
    let mut after = text[end..].chars();
    let (next, then) = (after.next(), after.next());
    if next.is_some_and(char::is_alphanumeric) {
        return None;
    }
    let possessive = matches!(next, Some('\'' | '’')) && matches!(then, Some('s' | 'S'));
    let food = || foods::table().knows_word(name);
    (talk || possessive || !food()).then_some(end)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::store::Store;
    use crate::store::archive::Holds;

    #[track_caller]
    fn check(names: &[&str], text: &str, expected: &str) {
        let names: Vec<String> = names.iter().map(|name| (*name).to_owned()).collect();
        let others = ["Ana".to_owned(), "Anna Smith".to_owned()];
        let names = Names::new(&names, &others);
        let without = names.without(text, false);
        assert_eq!(without.as_deref().unwrap_or(text), expected);
    }

    #[test]
    fn names_are_taken_out_as_whole_words() {
        check(&["Tom"], "150 dal for Tom", "150 dal for someone");
        check(
            &["Tom"],
            "TOM's tomatoes, @tom",
            "someone's tomatoes, @someone",
        );
        check(&["Tom"], "tomorrow atom", "tomorrow atom");
        check(&["Zoë"], "zoë and ZOË", "someone and someone");
        check(
            &["Mary Ann Lee"],
            "Mary\n Ann  Lee, mary",
            "someone, someone",
        );
        check(&["İlker"], "İlker", "someone");
        check(&["", " "], "a b", "a b");
    }

    #[test]
    fn a_name_that_somebody_else_has_stays() {
        check(&["Ana"], "150 dal for Ana", "150 dal for Ana");
        check(
            &["Tom Smith"],
            "Tom and Anna Smith",
            "someone and Anna Smith",
        );
    }

    #[test]
    fn a_herb_stays_a_herb() {
        check(&["Rosemary"], "2 g rosemary", "2 g rosemary");
        check(&["Rosemary"], "Rosemary's mug", "someone's mug");
        let names = Names::new(&["Rosemary".to_owned()], &[]);
        let without = names.without("150 dal for rosemary", true);
        assert_eq!(without.as_deref(), Some("150 dal for someone"));
    }

    /// A text column of a new migration holds words of people, or stands here.
    const NO_WORDS: &[&str] = &[
        "about",
        "asked_at",
        "came_to",
        "changed_at",
        "channel",
        "chat",
        "closed_at",
        "code",
        "counted",
        "created_at",
        "currency",
        "day",
        "due_at",
        "expires_at",
        "external_id",
        "food",
        "from_day",
        "household",
        "joined_at",
        "key",
        "kind",
        "left_at",
        "looked_at",
        "made_at",
        "made_on",
        "meal",
        "moved_to",
        "next_at",
        "occurred_at",
        "occurrence",
        "opened_at",
        "origin",
        "outcome",
        "received_at",
        "recorded_at",
        "reply_to",
        "said_at",
        "sender",
        "sent_at",
        "since",
        "state",
        "storage",
        "timezone",
        "topic",
        "unit",
        "until_day",
        "use_by",
        "uses",
        "value",
        "wall",
        "what",
    ];

    #[tokio::test]
    async fn every_text_is_known_to_hold_words_or_none() {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let store = Store::open(&folder.path().join("books.db")).await;
        let store = store.expect("a fresh file opens");
        let mut transaction = store.look().await.expect("it reads");
        for shape in transaction.shapes().await.expect("it reads") {
            for column in shape.columns.iter().filter(|it| it.holds == Holds::Text) {
                let name = column.name.as_str();
                let known = [WORDS.as_slice(), NO_WORDS, &[KEY]];
                let known = known.iter().filter(|list| list.contains(&name)).count();
                assert_eq!(
                    known, 1,
                    "{}.{name}: may somebody's name stand in it?",
                    shape.name
                );
            }
        }
    }
}
