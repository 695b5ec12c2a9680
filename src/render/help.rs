//! Help: an overview, and a page for each topic. The examples are of one household: Robin and Ana.

use super::clean::quote;
use super::help_ahead;
use super::page::Page;

/// A page of help: the words that ask for it (the first is its name), and its text. Lines that begin
/// with "> " are examples to type.
pub struct Topic {
    pub words: &'static [&'static str],
    pub text: &'static str,
}

/// The page for these words, or the overview.
pub fn page(topic: Option<&str>) -> Page {
    let asked = topic.map(str::trim).filter(|asked| !asked.is_empty());
    let mut page = Page::new();
    match asked.map(|asked| (asked, find(asked))) {
        None => page.tell(OVERVIEW),
        Some((_, Some(topic))) => page.tell(topic.text),
        Some((asked, None)) => {
            page.say(format!("There is no help on {}.", quote(asked)));
            page.gap();
            page.tell(OVERVIEW);
        }
    }
    if asked.and_then(find).is_none() {
        let names: Vec<&str> = topics().map(|topic| topic.words[0]).collect();
        page.gap();
        page.say(format!("More: help and one of {}", names.join(", ")));
        page.gap();
        page.tell(&super::greeting::not_advice());
    }
    page
}

/// The topic whose name or other words are among the asked ones.
fn find(asked: &str) -> Option<&'static Topic> {
    let asked = asked.to_lowercase();
    let asked_words: Vec<&str> = asked
        .split(|character: char| !character.is_alphanumeric())
        .flat_map(|word| [word, word.strip_suffix('s').unwrap_or(word)])
        .collect();
    topics().find(|topic| topic.words.iter().any(|word| asked_words.contains(word)))
}

fn topics() -> impl Iterator<Item = &'static Topic> {
    OF_FOOD.iter().chain(&help_ahead::TOPICS)
}

const OVERVIEW: &str = "\
Cook a batch, in one message:
> batch lentil dal
> 500 g red lentils
> 2 tbsp sunflower oil
> 1 medium onion
> cooked 2310, pot 470

Eat from it, with plain foods:
> 140 dal, 2 tsp olive oil

Ask:
> what's left
> plan
> kcal 100 g parsnip

Take it back:
> undo";

const OF_FOOD: &[Topic] = &[
    Topic {
        words: &["batch", "cook", "recipe", "ingredient"],
        text: "\
A batch is one pot. Name it, list what goes in, weigh what comes out:
> batch lentil dal
> 500 g red lentils
> 2 tbsp sunflower oil
> cooked 2310 in the pot, pot 470
> freezer

Not weighed yet? It stays open with an estimate until:
> dal weighed 1840

Add, change or drop a line later:
> dal + 1 tsp cumin
> dal line 3: 5 g cumin

Cut vegetables or a cold sauce, nothing cooked:
> batch slaw, raw, 400 g cabbage

Line by line:
> show dal",
    },
    Topic {
        words: &["portion", "eat", "plate", "meal"],
        text: "\
A portion is grams and a name, one or many:
> 140 dal, 180 barley
> half the dal
> rest of the parsnips

For another meal, day or person:
> 140 dal yesterday lunch
> 90 barley for Ana

Of two batches the first to expire goes first. To choose:
> 140 new dal
> 140 D7

A little more than the books hold is recorded and said; much more is asked.",
    },
    Topic {
        words: &["label", "sticker", "allergen"],
        text: "\
A label to print for every bag of it:
> label dal
> label dal 50 x 30 mm
> labels for all in the freezer on A4

The code on it, typed here, shows the batch; so does scanning it.

It names the allergens that are recorded. None recorded is not none in it: the packet wins.",
    },
    Topic {
        words: &["packet", "nutrition"],
        text: "\
A food that the table lacks comes from its packet:
> packet miso paste per 100 g: 199 kcal, 12 protein, 6 fat, 26 carb, 5.4 fibre, salt 9.3 g

Per serving, kJ and sodium work too:
> packet oat bar per serving 30 g: 540 kJ, 3 protein, 5 fat, 18 carb, 110 mg sodium

A label whose energy does not fit the rest is kept, and doubted aloud.",
    },
    Topic {
        words: &["measure", "ladle", "scoop"],
        text: "\
Teach what a measure of your own weighs:
> 1 ladle dal = 180 g

Then:
> 2 ladles dal

What a common measure weighs:
> how many grams is a cup of barley",
    },
    Topic {
        words: &["weigh", "weight", "tare", "scale", "pot", "container"],
        text: "\
Net, or gross less what it stood in; within a batch begin with \"cooked\":
> dal weighed 1840
> dal weighed 2310, pot 470
> dal weighed 1240 + 1130, bowl 412, 2 bags 9 each

Teach a pot once, then name it:
> blue pot is 812 g empty
> dal weighed 3050 in the blue pot

Weigh what was poured away too:
> poured off 120 g marinade
> drained 35 g fat",
    },
    Topic {
        words: &["undo", "correct", "mistake", "edit", "fix"],
        text: "\
Take back the last thing you booked:
> undo

The button below each answer does the same for that answer, and can put it back.

Or edit your message: the books follow the edit.",
    },
    Topic {
        words: &["stock", "left", "fridge", "due"],
        text: "\
What stands ready, and how much of it:
> what's left
> plan
> what's in the freezer
> how much dal

What is due first:
> what to eat first",
    },
    Topic {
        words: &["bought", "already", "keeps", "place"],
        text: "\
Stock that nobody cooked here:
> 900 frozen peas, freezer
> bought 500 g tofu, fridge, use by 3 Dec
> there was already 700 chilli in the freezer

The date on a packet, and your own days:
> dal use by 3 Dec
> dal keeps 3 days

How cold a place is:
> the cellar is like a fridge",
    },
    Topic {
        words: &["move", "freeze", "freezer", "froze", "thaw"],
        text: "\
Put elsewhere, each bag with its own date:
> froze 600 of the dal
> froze the dal in two bags, 700 and 640
> rest of the rice in the fridge

Out of the freezer:
> thaw 400 dal for tomorrow

Where a date comes from:
> show dal",
    },
    Topic {
        words: &["mix", "box", "leftover", "topped", "topup"],
        text: "\
Packed by the count, and eaten by it:
> 4 boxes of 140 dal, 180 rice
> ate a box

What a meal left, off its plates:
> 320 left over, fridge

Something stirred into what is left:
> topped up the dal with 200 ml stock

Each is a batch of its own, with the earliest date of what went in.",
    },
    Topic {
        words: &["count", "recount", "stocktake", "drift", "unweighed"],
        text: "\
The scale says something else than the books:
> recount: dal 1210
> dal weighs 1210

The whole kitchen, from a list to put right:
> recount

Taken and not weighed; the next count tells how much:
> took some dal
> I had the missing dal

Finished, and there after all:
> dal finished
> there is still 200 dal after all

What counts have found in the last months:
> drift",
    },
    Topic {
        words: &["again", "compare", "pace"],
        text: "\
A dish as you made it last, to cook by; the second opens a pot:
> recipe for dal
> dal again

Scaled, and with what is different:
> dal again x1.5
> dal with 700 g lentils
> dal again, ghee for oil, without salt, plus 2 carrots

How the last pots compare, how fast it goes, what it costs:
> compare the last 3 dals
> when does the dal run out
> what does the dal cost",
    },
    Topic {
        words: &["waste", "bin", "binned", "price", "cost"],
        text: "\
Thrown away, and why:
> binned 150 parsnips, mouldy
> binned the dal in the freezer

What it cost, of what has a price:
> dal cost 6.40
> what did we throw away in October

What became of a dish, line by line:
> what happened to the dal",
    },
    Topic {
        words: &["units", "unit", "cup", "spoon"],
        text: "\
g, kg, mg, oz, lb, ml, cl, dl, l, tsp, tbsp, cup, fl oz, pint, quart, pieces, and 1 lb 4 oz, \
2 x 400 g, 2 1/2, ½.

A cup or a spoon is turned into grams by the food's own weights: an estimate, marked ~. With both \
given, the weight wins:
> 2 1/2 tbsp (22 g) honey

Whose cups and spoons:
> measures us
> measures metric
> measures australian
> measures british",
    },
    Topic {
        words: &["settings", "setting", "brief", "timezone", "board"],
        text: "\
Answers in full, on one line, or as a reaction:
> answers full
> answers brief
> answers reaction

Where the kitchen is, and whose keeping times it follows:
> timezone Europe/Dublin
> uk guidance

Whether the board hangs in the chat:
> board
> no board",
    },
    Topic {
        words: &["facts", "fact", "kcal", "calories", "energy"],
        text: "\
What is in something:
> kcal 100 g parsnip
> kcal in 2 medium onions
> protein in 140 g dal

Plain foods come from the USDA National Nutrient Database, Release 28. By number:
> kcal 100 g NDB 11298

What nobody knows is said as unknown, and a sum with it as \"at least\".",
    },
    Topic {
        words: &["safety", "date", "advice", "later", "planned"],
        text: "\
A line about cooling is a reminder, not advice: your food authority comes first.

Use-by days come from published charts, and a bot cannot see or smell: your own senses come first.

Not there yet, and said so when asked: charts, allergies of people.",
    },
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::render::page::WIDTH;

    #[test]
    fn every_topic_is_found_by_each_of_its_words() {
        for topic in topics() {
            for word in topic.words {
                let found = find(&word.to_uppercase()).expect("the word is a topic's own");
                assert_eq!(found.words, topic.words, "{word} is claimed twice");
            }
        }
        assert_eq!(find("my quonks").map(|topic| topic.words[0]), None);
        assert_eq!(
            find("how do packets work").map(|topic| topic.words[0]),
            Some("packet")
        );
    }

    #[test]
    fn the_overview_names_every_topic() {
        let overview = page(None).text.replace('\n', " ");
        assert!(
            topics().all(|topic| overview.contains(topic.words[0])),
            "{overview}"
        );
        let lost = page(Some("quonks\u{7}")).text;
        assert!(
            lost.starts_with("There is no help on \"quonks\"."),
            "{lost}"
        );
    }

    #[test]
    fn lines_fit_a_phone_unless_they_are_examples() {
        let examples: Vec<&str> = topics()
            .flat_map(|topic| topic.text.lines())
            .filter_map(|line| line.strip_prefix("> "))
            .collect();
        for topic in topics() {
            for line in page(Some(topic.words[0])).text.lines() {
                assert!(
                    line.chars().count() <= WIDTH || examples.contains(&line),
                    "{line}"
                );
            }
        }
    }

    /// The examples of a page, each as it would be sent: a batch goes on over its lines.
    fn examples(text: &str) -> Vec<String> {
        let mut examples: Vec<String> = Vec::new();
        let mut in_batch = false;
        for line in text.lines() {
            let Some(example) = line.strip_prefix("> ") else {
                in_batch = false;
                continue;
            };
            match examples.last_mut() {
                Some(batch) if in_batch => {
                    batch.push('\n');
                    batch.push_str(example);
                }
                _ => examples.push(example.to_string()),
            }
            in_batch |= example.starts_with("batch ");
        }
        examples
    }

    #[test]
    fn every_example_is_understood() {
        let pages = topics().map(|topic| topic.text).chain([OVERVIEW]);
        for example in pages.flat_map(examples) {
            crate::render::sample::is_understood(&example);
        }
    }
}
