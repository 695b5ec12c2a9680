//! The allergens of the two lists and what carries them, as `data/allergens.txt` has them.

use std::collections::{BTreeSet, HashMap};
use std::sync::OnceLock;

use crate::foods::{Food, Group, compared_words};

/// One of the chart's allergens; in the chart's order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Allergen(usize);

struct Terms {
    word: &'static str,
    label: &'static str,
    us: Option<&'static str>,
    eu: Option<&'static str>,
}

impl Allergen {
    fn terms(self) -> &'static Terms {
        &chart().allergens[self.0]
    }

    pub fn all() -> impl Iterator<Item = Self> {
        (0..chart().allergens.len()).map(Self)
    }

    pub fn by_word(word: &str) -> Option<Self> {
        Self::all().find(|allergen| allergen.terms().word == word)
    }

    /// What a text names by the chart's words, its labels or a term of either list.
    pub fn of_term(text: &str) -> BTreeSet<Self> {
        let said = compared_words(text);
        let is = |term: &str| compared_words(term) == said;
        Self::all()
            .filter(|allergen| {
                let terms = allergen.terms();
                let lists = [terms.us, terms.eu].into_iter().flatten();
                is(terms.word) || is(terms.label) || lists.into_iter().any(is)
            })
            .collect()
    }

    /// As a label names it: true in both lists.
    pub fn label(self) -> &'static str {
        self.terms().label
    }

    /// The term of the United States' list, if it is on it.
    pub fn us(self) -> Option<&'static str> {
        self.terms().us
    }

    /// The term of the European list, if it is on it.
    pub fn eu(self) -> Option<&'static str> {
        self.terms().eu
    }
}

/// What is known of one food.
#[derive(Debug, Clone, PartialEq)]
pub struct Carried {
    pub allergens: BTreeSet<Allergen>,
    /// Nothing else is in it: it is what it is called.
    pub whole: bool,
}

/// What a food of the table carries, by its own name.
pub fn of_food(food: &Food) -> Carried {
    let words = compared_words(&food.description);
    let chart = chart();
    let place = Where::Group(food.group);
    let branded = !food.manufacturer.is_empty();
    let made = chart.all_made.contains(&food.group) || matches(&chart.made, &words, place);
    let plain = !made || matches(&chart.plain, &words, place);
    Carried {
        allergens: carried(&words, place),
        whole: plain && !branded,
    }
}

/// What words tell of an ingredient that is no food of the table: never all of it.
pub fn of_words(text: &str) -> Carried {
    Carried {
        allergens: carried(&compared_words(text), Where::Text),
        whole: false,
    }
}

fn carried(words: &[String], place: Where) -> BTreeSet<Allergen> {
    let chart = chart();
    let mut found = BTreeSet::new();
    let mut at = 0;
    while at < words.len() {
        match longest(&chart.carriers, &words[at..], place) {
            Some(row) => {
                found.extend(&row.allergens);
                at += row.words.len();
            }
            None => at += 1,
        }
    }
    let denied = |row: &Row| stands_in(row, words);
    for row in chart.without.values().flatten().filter(|row| denied(row)) {
        found.retain(|allergen| !row.allergens.contains(allergen));
    }
    found
}

fn matches(rows: &Rows, words: &[String], place: Where) -> bool {
    (0..words.len()).any(|at| longest(rows, &words[at..], place).is_some())
}

fn stands_in(row: &Row, words: &[String]) -> bool {
    words.windows(row.words.len()).any(|part| part == row.words)
}

fn longest<'a>(rows: &'a Rows, words: &[String], place: Where) -> Option<&'a Row> {
    let fits = |row: &&Row| {
        (row.place == Where::Anywhere || row.place == place) && words.starts_with(&row.words)
    };
    let own = rows.get(words.first()?)?;
    own.iter().filter(fits).max_by_key(|row| row.words.len())
}

/// Where a name tells something.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Where {
    Anywhere,
    Text,
    Group(Group),
}

struct Row {
    words: Vec<String>,
    place: Where,
    allergens: Vec<Allergen>,
}

/// Rows by their first word.
type Rows = HashMap<String, Vec<Row>>;

#[derive(Default)]
struct Chart {
    allergens: Vec<Terms>,
    carriers: Rows,
    without: Rows,
    made: Rows,
    all_made: Vec<Group>,
    plain: Rows,
}

fn chart() -> &'static Chart {
    static CHART: OnceLock<Chart> = OnceLock::new();
    CHART.get_or_init(|| {
        let mut chart = Chart::default();
        let lines = include_str!("../data/allergens.txt").lines();
        for line in lines.filter(|line| !line.is_empty() && !line.starts_with('#')) {
            let columns: Vec<&str> = line.split('|').map(str::trim).collect();
            let read = chart.read(&columns);
            read.unwrap_or_else(|| panic!("a row of the allergens does not read: {line}"));
        }
        chart
    })
}

impl Chart {
    fn read(&mut self, columns: &[&'static str]) -> Option<()> {
        let term = |text: &'static str| (text != "-").then_some(text);
        match *columns {
            ["allergen", word, label, us, eu] => self.allergens.push(Terms {
                word,
                label,
                us: term(us),
                eu: term(eu),
            }),
            ["carries", place, names, allergens, _source] => {
                let allergens = self.named(allergens)?;
                add(&mut self.carriers, place, names, &allergens)?;
            }
            ["without", names, allergens] => {
                let allergens = self.named(allergens)?;
                add(&mut self.without, "*", names, &allergens)?;
            }
            ["made", place, "*"] => match where_word(place)? {
                Where::Group(group) => self.all_made.push(group),
                _ => return None,
            },
            ["made", place, names] => add(&mut self.made, place, names, &[])?,
            ["plain", place, names] => add(&mut self.plain, place, names, &[])?,
            _ => return None,
        }
        Some(())
    }

    fn named(&self, words: &str) -> Option<Vec<Allergen>> {
        let one = |word: &str| {
            let at = self.allergens.iter().position(|known| known.word == word);
            at.map(Allergen)
        };
        match words {
            "-" => Some(Vec::new()),
            _ => words.split(", ").map(one).collect(),
        }
    }
}

fn add(rows: &mut Rows, place: &str, names: &str, allergens: &[Allergen]) -> Option<()> {
    let place = where_word(place)?;
    for name in names.split(", ") {
        let words = compared_words(name);
        let first = words.first()?.clone();
        rows.entry(first).or_default().push(Row {
            words,
            place,
            allergens: allergens.to_vec(),
        });
    }
    Some(())
}

fn where_word(word: &str) -> Option<Where> {
    match word {
        "*" => Some(Where::Anywhere),
        "text" => Some(Where::Text),
        _ => Group::from_release(word.parse().ok()?).map(Where::Group),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::foods::{Found, table};

    /// What the table's food of an everyday name carries, as a label says it, and whether that is all.
    #[track_caller]
    fn food(name: &str) -> (String, bool) {
        let Found::Taken(found) = table().find(name) else {
            panic!("{name} is a food of the table");
        };
        let carried = of_food(table().get(found.code).expect("in the table"));
        (labels(&carried), carried.whole)
    }

    fn labels(carried: &Carried) -> String {
        let labels = carried.allergens.iter().map(|allergen| allergen.label());
        labels.collect::<Vec<_>>().join(", ")
    }

    /// The carriers that the household reference lists; recipes vary and the packet wins, so none is the whole unless the
    /// table's own name for it tells what it is made from.
    #[test]
    fn the_usual_carriers_carry() {
        for (name, carries) in [
            ("oyster sauce", "molluscs (shellfish)"),
            ("worcestershire sauce", "fish"),
            ("fish sauce", "fish"),
            ("mayonnaise", "eggs"),
            ("miso", "soybeans"),
            ("chicken stock cube", "celery"),
        ] {
            assert_eq!(food(name), (carries.to_owned(), false), "{name}");
        }
        for (name, carries) in [
            ("soy sauce", "wheat (gluten), soybeans"),
            ("low sodium soy sauce", "wheat (gluten), soybeans"),
            ("tamari", "soybeans"),
            ("tahini", "sesame"),
            ("sesame oil", "sesame"),
            ("tofu", "soybeans"),
            ("red wine", "sulphites"),
            ("dried apricots", "sulphites"),
        ] {
            assert_eq!(food(name), (carries.to_owned(), true), "{name}");
        }
        assert_eq!(labels(&of_words("shrimp paste")), "crustaceans (shellfish)");
    }

    #[test]
    fn what_it_is_itself_is_all_that_it_carries() {
        for (name, carries) in [
            ("milk", "milk"),
            ("butter", "milk"),
            ("eggs", "eggs"),
            ("flour", "wheat (gluten)"),
            ("pearl barley", "barley (gluten)"),
            ("rolled oats", "oats (gluten)"),
            ("prawns", "crustaceans (shellfish)"),
            ("mussels", "molluscs (shellfish)"),
            ("salmon", "fish"),
            ("peanut butter", "peanuts"),
            ("almonds", "almonds (nuts)"),
            ("pine nuts", "pine nuts"),
            ("celery", "celery"),
            ("lupins", "lupin"),
        ] {
            assert_eq!(food(name), (carries.to_owned(), true), "{name}");
        }
    }

    #[test]
    fn a_name_within_a_name_is_not_taken_for_it() {
        for name in [
            "coconut milk",
            "cocoa butter",
            "cream of tartar",
            "rice noodles",
            "rice flour",
            "buckwheat",
            "chestnuts",
            "nutmeg",
            "butternut squash",
            "butter beans",
            "eggplant",
            "soybean oil",
        ] {
            assert_eq!(food(name), (String::new(), true), "{name}");
        }
    }

    #[test]
    fn both_lists_have_terms_of_their_own() {
        let terms = |text: &str| {
            let carried = of_words(text).allergens;
            let us: Vec<_> = carried
                .iter()
                .filter_map(|allergen| allergen.us())
                .collect();
            let eu: Vec<_> = carried
                .iter()
                .filter_map(|allergen| allergen.eu())
                .collect();
            (us.join(", "), eu.join(", "))
        };
        let of = |us: &str, eu: &str| (us.to_owned(), eu.to_owned());
        assert_eq!(terms("spelt"), of("wheat", "cereals containing gluten"));
        assert_eq!(terms("rye"), of("", "cereals containing gluten"));
        assert_eq!(terms("crab"), of("Crustacean shellfish", "crustaceans"));
        assert_eq!(terms("hazelnuts"), of("tree nuts", "nuts"));
        assert_eq!(terms("pine nuts"), of("tree nuts", ""));
    }

    #[test]
    fn a_made_food_is_never_known_whole() {
        for name in [
            "white bread",
            "ketchup",
            "margarine",
            "milk chocolate",
            "pork sausage",
        ] {
            assert!(!food(name).1, "{name}");
        }
        let gluten_free = of_words("gluten free bread");
        assert_eq!(
            (labels(&gluten_free), gluten_free.whole),
            (String::new(), false)
        );
    }
}
