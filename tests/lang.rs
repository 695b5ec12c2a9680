//! What messages mean: tables of many spellings with one meaning, and of mistakes with one error.
//!
//! A meaning is written as the canonical text that the command prints, and that text must parse to the same.

mod spoken;

use hobside::lang::{Command, ErrorKind, LineContent, Parsed, Sense, Vocabulary, parse};
use spoken::printed;

fn household() -> Vocabulary {
    let mut words = Vocabulary::new();
    for batch in [
        "lentil dal",
        "rice",
        "black beans",
        "tomato soup",
        "mac and cheese",
        "roast chicken",
        "salsa",
        "3 bean chili",
    ] {
        words.add(Sense::Batch, batch);
    }
    words.add(Sense::Code, "D7");
    for container in ["blue pot", "blue bowl"] {
        words.add(Sense::Container, container);
    }
    for person in ["Ana", "Robin"] {
        words.add(Sense::Person, person);
    }
    words.add(Sense::Place, "garage freezer");
    words.add(Sense::Packet, "miso paste");
    words.add(Sense::Measure, "ladle");
    words
}

fn read(text: &str) -> Parsed {
    parse(text, &household())
}

/// Every spelling reads wholly as this meaning, and the meaning's own text does.
#[track_caller]
fn means(meaning: &str, spellings: &[&str]) {
    let own = (!meaning.contains('\n') || meaning.starts_with("batch")).then_some(&meaning);
    for spelling in spellings.iter().chain(own) {
        let parsed = read(spelling);
        let best = parsed.best();
        assert!(best.errors.is_empty(), "{spelling:?}: {:?}", best.errors);
        assert_eq!(
            printed(&best.commands),
            meaning,
            "{spelling:?}: {:?}",
            best.reasons
        );
        for command in &best.commands {
            let again = read(&command.to_string());
            assert_eq!(
                again.best().commands,
                std::slice::from_ref(command),
                "{spelling:?} printed and parsed"
            );
        }
    }
}

/// As `means`, and sure enough to book when nobody spoke to the bot.
#[track_caller]
fn books(meaning: &str, spellings: &[&str]) {
    means(meaning, spellings);
    for spelling in spellings {
        let parsed = read(spelling);
        assert!(
            parsed.best().sure,
            "{spelling:?} is not sure: {:?}",
            parsed.best().reasons
        );
    }
}

/// Every text is refused with this error, pointing at these words.
#[track_caller]
fn fails(words: &str, is: fn(&ErrorKind) -> bool, texts: &[&str]) {
    for text in texts {
        let parsed = read(text);
        let best = parsed.best();
        assert!(!best.sure, "{text:?} reads as {:?}", best.commands);
        let error = best.errors.first().expect("an error is told");
        assert!(is(&error.kind), "{text:?}: {error:?}");
        assert_eq!(&text[error.span.clone()], words, "{text:?}");
    }
}

/// Nobody is answered: neither sure nor worth a question.
#[track_caller]
fn silent(texts: &[&str]) {
    for text in texts {
        let parsed = read(text);
        let best = parsed.best();
        let spoken = best.weighing_like || parsed.readings.iter().any(|reading| reading.sure);
        assert!(!spoken, "{text:?} would be answered: {best:?}");
    }
}

/// The lines of a batch, as canonical text; unclear ones as "? words".
#[track_caller]
fn lines(expected: &[&str], text: &str) {
    let parsed = read(text);
    let Some(Command::Batch(batch)) = parsed.best().commands.first() else {
        panic!("{text:?} is no batch: {:?}", parsed.best());
    };
    let shown: Vec<String> = batch
        .lines
        .iter()
        .map(|line| match &line.content {
            LineContent::Unclear(_) => format!("? {}", line.text),
            LineContent::Ingredient { .. } => match &line.part {
                Some(part) => format!("{part}: {line}"),
                None => line.to_string(),
            },
        })
        .collect();
    assert_eq!(shown, expected, "{text:?}");
}

/// One ingredient, in any of these spellings, is this line.
#[track_caller]
fn ingredient(meaning: &str, spellings: &[&str]) {
    for spelling in spellings {
        lines(&[meaning], &format!("batch stew\n{spelling}"));
        lines(
            &["1 x egg", meaning, "5 g salt"],
            &format!("batch stew: 1 x egg; {spelling}; 5 g salt"),
        );
    }
}

// ---- portions

#[test]
fn a_portion_in_any_order_and_wrapping() {
    books(
        "130 soup, 90 beans",
        &[
            "130 soup, 90 beans",
            "soup 130, beans 90",
            "soup:130, beans:90",
            "soup: 130; beans: 90",
            "had 130 of the soup and 90 beans",
            "I had 130 soup & 90 beans",
            "130 soup + 90 beans",
            "130 soup 90 beans",
            "soup 130 beans 90",
            "130 soup\n90 beans",
            "soup\n130\nbeans\n90",
            "- 130 soup\n- 90 beans",
            "• soup 130\n• beans 90",
            "* 130 soup\n* 90 beans",
            "130 soup / 90 beans",
            "ate 130 soup with 90 beans",
            "130 of soup, 90 of the beans.",
            "  130   soup ,90   beans  ",
            "130 soup 🍲, 90 beans 🫘",
            "soup one thirty, beans ninety",
            "one thirty soup, ninety beans",
            "one hundred and thirty soup and ninety beans",
            "١٣٠ soup, ٩٠ beans",
            "１３０ soup, ９０ beans",
            "1\u{200b}30 soup, 9\u{2060}0 beans",
            "just had 130 soup and then 90 beans!",
            "130 soup, 90 beans please",
        ],
    );
    books(
        "130 g soup, 90 g beans",
        &[
            "130g soup+90g beans",
            "130 g soup, 90 grams beans",
            "soup 130g beans 90g",
            "130 gr soup & 90gr of beans",
            "soup (130 g), beans (90 g)",
        ],
    );
    books("130 SOUP, 90 BEANS", &["SOUP 130 BEANS 90"]);
}

#[test]
fn names_with_joining_words_and_numbers() {
    books(
        "200 mac and cheese",
        &[
            "mac and cheese 200",
            "200 of mac and cheese",
            "mac and cheese: 200",
        ],
    );
    books(
        "200 mac and cheese, 90 beans",
        &[
            "200 mac and cheese and 90 beans",
            "mac and cheese 200, beans 90",
        ],
    );
    books(
        "200 3 bean chili",
        &["3 bean chili 200", "3 bean chili: 200"],
    );
    books("140 D7", &["D7 140", "140 of D7", "D7: 140"]);
    books(
        "140 g NDB 16069",
        &["140 g NDB 16069", "NDB 16069 140 g", "140g of NDB 16069"],
    );
    books(
        "1 cup sliced NDB 11260",
        &["1 cup sliced NDB 11260", "1 cup of sliced NDB 11260"],
    );
    books("200 2% milk", &["2% milk 200", "200 of 2% milk"]);
    books("140 old dal", &["old dal 140", "140 of the old dal"]);
    books(
        "140 Sunday's dal",
        &["Sunday's dal 140", "140 of Sunday's dal"],
    );
}

#[test]
fn numbers_in_any_writing() {
    books(
        "1240 dal",
        &[
            "1,240 dal",
            "1'240 dal",
            "1\u{a0}240 dal",
            "1\u{202f}240 dal",
            "1240 dal",
            "dal 1,240",
        ],
    );
    books("130.5 dal", &["130,5 dal", "130.5 dal", "dal 130,5"]);
    books(
        "1240.5 dal",
        &["1.240,5 dal", "1,240.5 dal", "1\u{2009}240,5 dal"],
    );
    books(
        "0.5 cup dal",
        &[
            "½ cup dal",
            "1/2 cup dal",
            "half a cup of dal",
            "0,5 cups dal",
            ".5 cup dal",
        ],
    );
    books(
        "2.5 tbsp honey",
        &[
            "2½ tbsp honey",
            "2 1/2 tbsp honey",
            "2 ½ tbsp honey",
            "two and a half tablespoons of honey",
            "2.5 Tbsp honey",
            "honey 2 1/2 tbsp",
        ],
    );
    books(
        "566.990463 g soup",
        &[
            "1 lb 4 oz soup",
            "soup 1lb 4oz",
            "1 pound 4 ounces of soup",
            "20 oz soup",
        ],
    );
    books(
        "286 g dal",
        &[
            "688-402 dal",
            "688 - 402 dal",
            "dal 688-402",
            "688 → 402 dal",
            "dal 688 -> 402",
        ],
    );
    books(
        "220 g beans",
        &["130 + 90 beans", "130+90 beans", "beans 130 + 90"],
    );
    books(
        "40 to 50 salsa",
        &["40-50 salsa", "40 to 50 salsa", "salsa 40–50"],
    );
    books("40 to 50 g salsa", &["40-50 g salsa"]);
    books(
        "123 dal",
        &["dal (95+40)-12", "(95+40)-12 dal", "(95 + 40) - 12 dal"],
    );
    books("240 dal", &["(95+25)*2 dal", "dal 2*(95+25)"]);
    books("76 g dal", &["dal 2*38", "2*38 dal"]);
    books(
        "150 g dal",
        &["half of 300 dal", "had half of the 300 g of dal"],
    );
    books("180 g dal", &["0.18 of a kilo of dal"]);
    books(
        "115 dal",
        &[
            "a hundred n fifteen dal",
            "hundred'n'fifteen dal",
            "one one five dal",
            "dal one one five",
        ],
    );
    books("90 black beans", &["blackbeans90", "90 blackbeans"]);
    books("130 dal\n90 dal for ana", &["me130dal ana90dal"]);
    books("1.24 to 1240 g dal", &["1.240 dal"]);
}

#[test]
fn weighings_inside_whole_sentences() {
    books(
        "140 soup",
        &[
            "130 no wait 140 soup",
            "just had 140 soup",
            "140 soup, dont judge me",
            "wet hands sry. soup 140",
            "1) soup 140",
            "had some soup, 140 of it",
        ],
    );
    books(
        "140 soup at 17:45",
        &[
            "ate at 17:45, 140 soup",
            "5.45pm 140 soup",
            "140 soup at quarter to 6pm",
        ],
    );
    books(
        "140 soup at 6:30",
        &["140 soup at half six", "had 140 soup at 6.30"],
    );
    books(
        "140 soup",
        &["140 soup, training at 6", "left at 6pm, 140 soup"],
    );
    books("140 g soup", &["140gsoup"]);
    books("260 old soup", &["260 soup, the old one"]);
    books(
        "140 soup, 15 butter",
        &["140 soup w/ 15 butter", "140 soup with 15 butter"],
    );
    books("all the old soup", &["finished off the old soup"]);
    books("680.388555 g soup", &["a pound and a half of soup"]);
}

#[test]
fn shares_and_pieces() {
    books(
        "50% of the dal",
        &[
            "half the dal",
            "half of the dal",
            "1/2 of the dal",
            "½ of the dal",
            "had half of the dal",
            "50% of the dal",
        ],
    );
    books(
        "25% of the dal",
        &["¼ of the dal", "a quarter of the dal", "quarter of the dal"],
    );
    books(
        "all the rice",
        &[
            "rest of the rice",
            "the rest of the rice",
            "all of the rice",
            "all the rice",
        ],
    );
    books(
        "2 ladle dal",
        &[
            "2 ladles of dal",
            "2 ladles dal",
            "dal 2 ladles",
            "two ladles of dal",
        ],
    );
    books(
        "2 slice bread, 10 g butter",
        &[
            "2 slices of bread and 10 g butter",
            "bread 2 slices, butter 10 g",
        ],
    );
    books(
        "1 x apple, 30 g cheese",
        &["an apple and 30 g cheese", "an apple, 30 g of cheese"],
    );
    books(
        "2.5 tbsp (22 g) honey",
        &[
            "2 1/2 tbsp (22 g) honey",
            "2.5 tbsp honey (22 g)",
            "22 g (2 1/2 tbsp) honey",
            "honey 22 g (2.5 tbsp)",
        ],
    );
}

#[test]
fn when_and_whose() {
    books(
        "140 dal for lunch",
        &[
            "lunch: 140 dal",
            "140 dal for lunch",
            "for lunch 140 dal",
            "had 140 dal for lunch",
            "140 dal lunch",
        ],
    );
    books(
        "140 dal for lunch yesterday",
        &[
            "140 dal yesterday lunch",
            "yesterday lunch: 140 dal",
            "140 dal, that was yesterday's lunch",
        ],
    );
    books(
        "140 dal for dinner Tuesday",
        &[
            "Tue dinner: 140 dal",
            "140 dal Tuesday dinner",
            "140 dal for dinner on Tuesday",
        ],
    );
    books(
        "140 dal for Ana",
        &[
            "Ana had 140 dal",
            "Ana: 140 dal",
            "for Ana: 140 dal",
            "140 dal for Ana",
            "Ana 140 dal",
            "140 dal for Ana please",
        ],
    );
    books("140 dal for dinner for Ana", &["Ana's dinner: 140 dal"]);
    books(
        "140 dal\n120 rice for Ana",
        &[
            "me 140 dal, Ana 120 rice",
            "I had 140 dal and Ana had 120 rice",
            "me: 140 dal\nAna: 120 rice",
        ],
    );
    books("140 dal anyway", &["140 dal anyway", "140 dal, anyway"]);
    books(
        "plus 60 rice",
        &[
            "another 60 rice",
            "60 more rice",
            "+ 60 rice",
            "plus 60 rice",
            "also 60 rice",
        ],
    );
    books("plus 60 rice with that", &["forgot 60 rice with that"]);
}

#[test]
fn around_the_table() {
    books(
        "190 dal\n230 dal for Ana",
        &[
            "190 dal for me, 230 for Ana",
            "me 190 dal, Ana 230",
            "dal: me 190, Ana 230",
            "dal me 190 / Ana 230",
            "190 dal me 230 dal Ana",
            "I had 190 dal and Ana had 230",
        ],
    );
    books(
        "150 rice\n300 rice for Ana",
        &[
            "i had 150 rice and Ana took twice that",
            "150 rice me, 300 rice Ana",
        ],
    );
    books(
        "all the salsa, the rest for Ana, 40 g for me",
        &["Ana finished off the salsa, i'd 40 first"],
    );
    books(
        "all the salsa, 40 g for me, the rest for Ana",
        &["I took 40 salsa, Ana finished the rest"],
    );
    books(
        "all the beans, 2/3 for me, 1/3 for Ana",
        &[
            "2/3 of the beans me, the other 1/3 Ana",
            "two thirds of the beans for me and a third for Ana",
        ],
    );
    books(
        "500 rice, 280 g for me, the rest for Ana",
        &[
            "me 280 of 500 rice, rest is Ana's",
            "500 rice. mine 280 the rest Ana's",
        ],
    );
    books(
        "300 dal, 180 g for Ana, the rest for me",
        &["300 dal for me and Ana, she had 180 of it"],
    );
    books(
        "400 dal, 50% for Robin, 25% for Ana, 25% for me",
        &[
            "400 dal 2:1:1 Robin, Ana and me",
            "400 dal: Robin 2 parts, Ana 1 part, me 1 part",
        ],
    );
    books(
        "150 dal for guest Mia",
        &["Mia had 150 dal", "our friend Mia had 150 dal"],
    );
    books(
        "150 dal for guest mum",
        &["150 dal for my mum", "my mum had 150 dal"],
    );
    silent(&[
        "Ana ate all my salsa",
        "save me a bit of dal",
        "me and Ana are out",
    ]);
}

#[test]
fn days_and_meals_of_several_plates() {
    books(
        "150 salsa Sunday\n40 salsa today",
        &[
            "sunday 150 salsa and today 40 salsa",
            "150 salsa sunday, 40 salsa today",
        ],
    );
    books(
        "120 dal for lunch yesterday\n180 rice for dinner yesterday",
        &[
            "yesterday: lunch 120 dal / dinner 180 rice",
            "yesterday lunch 120 dal, dinner 180 rice",
        ],
    );
    books(
        "150 dal on the 12th",
        &["on the 12th 150 dal", "150 dal on the 12th"],
    );
    books(
        "150 dal 12 October",
        &["mon 12 oct, 150 dal", "12 oct: 150 dal"],
    );
    books(
        "150 dal 2 days ago",
        &[
            "day before yesterday i ate 150 dal",
            "two nights ago 150 dal",
        ],
    );
    books(
        "170 dal for dinner Monday for Ana",
        &["monday dinner Ana 170 dal"],
    );
}

#[test]
fn shared_plates() {
    books(
        "280 dal split between 2 of us",
        &[
            "280 dal for two",
            "280 dal split two ways",
            "280 dal for 2 people",
            "280 dal, half each",
            "for two: 280 dal",
            "280 dal for both of us",
            "280 dal between the two of us",
        ],
    );
    books(
        "280 dal split between me and Ana",
        &[
            "280 dal split with Ana",
            "280 dal shared with Ana",
            "280 dal for me and Ana",
            "me and Ana went halves on 280 dal",
            "280 dal for the two of us, me and Ana",
            "split 280 dal with Ana",
            "me & Ana shared 280 dal",
        ],
    );
    books(
        "280 dal split between Ana and me",
        &["280 dal for Ana and me", "280 dal between Ana and me"],
    );
    books("140 dal each", &["140 dal each", "140 dal apiece"]);
    books(
        "140 dal each for all of us",
        &["we each had 140 dal", "dal for everyone, 140 each"],
    );
    books(
        "Robin and Ana had 300 dal",
        &["Robin and Ana had 300 of the dal"],
    );
    books(
        "140 dal for Ana\n140 dal",
        &["140 dal each for Ana and me", "Ana and I had 140 dal each"],
    );
    books(
        "500 dal, 290 g for me",
        &[
            "me 290 of 500 dal",
            "500 dal, me 290",
            "290 of 500 dal",
            "290 of the 500 dal",
        ],
    );
    books(
        "450 dal, 2/3 for Ana, 1/3 for me",
        &[
            "450 dal, Ana had twice what I had",
            "Ana had twice as much as me, 450 dal between the two of us",
            "450 dal: Ana two thirds, me half of what Ana had",
        ],
    );
    books(
        "450 dal, 60% for Ana, 40% for me",
        &["450 dal for Ana and me, she had 90 more than me"],
    );
    books(
        "200 dal for Ana\n150 dal",
        &[
            "Ana 200 dal, me 50 less than her",
            "Ana had 200 dal, I had 50 less",
        ],
    );
    books(
        "300 dal for Ana\n150 dal",
        &[
            "Ana had double what I had, I had 150 dal",
            "Ana twice as much as me, me 150 dal",
        ],
    );
    books(
        "75% of the dal, 2/3 for me, 1/3 for Ana",
        &["half the dal for me, half of what was left for Ana"],
    );
    books(
        "5 portion (120 g each) dal, 60% for me, 40% for Ana",
        &[
            "5 portions of 120 dal: 3 me, 2 Ana",
            "5 x 120 dal, three for me and two for Ana",
        ],
    );
    books("500 dal, 60% for me", &["500 dal, 60/40", "500 dal 60/40"]);
    books(
        "140 dal yesterday\n120 dal today",
        &[
            "yesterday 140 dal, today 120",
            "140 dal yesterday and 120 today",
        ],
    );
    books(
        "140 dal yesterday",
        &[
            "yesterday, not today: 140 dal",
            "not today, yesterday: 140 dal",
        ],
    );
    // Somebody who ate is not left out.
    silent(&["140 dal, two of it for Ana"]);
    books(
        "300 dal, 50% for Ana",
        &["300 dal, half for Ana", "300 dal half for Ana"],
    );
    books(
        "900 dal, 300 g for me, 350 g for Ana, 250 g for Robin",
        &[
            "900 dal: me 300, Ana 350, Robin 250",
            "dal 900, me 300, Ana 350, Robin 250",
            "900 dal (me 300, Ana 350, Robin 250)",
        ],
    );
}

#[test]
fn weighing_without_the_tare_key() {
    books(
        "47 g oil",
        &[
            "oil jug 702 -> 655",
            "oil 702 -> 655",
            "oil jug 702-655",
            "oil 702-655",
        ],
    );
    books(
        "173 g beans, 139 g salsa",
        &[
            "plate 388, beans 561, salsa 700",
            "plate 388\nbeans 561\nsalsa 700",
            "blue bowl 388, beans 561, salsa 700",
        ],
    );
    books("310 dal in the blue bowl", &["310 dal in the blue bowl"]);
    books(
        "dal weighed 310 g in the blue bowl left or eaten",
        &["dal in the blue bowl 310", "dal in the blue bowl: 310"],
    );
    books("140 dal", &["140 dal in a bowl"]);
    fails(
        "beans 361",
        |kind| matches!(kind, ErrorKind::ScaleFell { .. }),
        &["plate 388, beans 361, salsa 700"],
    );
}

#[test]
fn what_is_no_mass_is_never_booked() {
    let no_mass: fn(&ErrorKind) -> bool = |kind| matches!(kind, ErrorKind::NotAMass(_));
    fails(
        "1.2.3",
        no_mass,
        &["1.2.3 dal", "dal 1.2.3", "140 rice, 1.2.3 dal"],
    );
    fails("1e400", no_mass, &["1e400 dal", "dal 1e400"]);
    fails("0x10", no_mass, &["0x10 dal"]);
    fails("0", no_mass, &["0 dal", "dal 0", "had 0 of the dal"]);
    fails("200 kg", no_mass, &["200 kg dal", "dal 200 kg"]);
    fails("100001", no_mass, &["100001 dal"]);
    fails("1/0", no_mass, &["1/0 dal"]);
    fails("10²", no_mass, &["10² dal"]);
    fails("1_240", no_mass, &["1_240 dal"]);
    fails("1,24,5", no_mass, &["1,24,5 dal"]);
}

#[test]
fn half_read_portions_are_not_booked() {
    fails(
        "olive oil",
        |kind| matches!(kind, ErrorKind::MissingAmount),
        &["140 dal, olive oil", "olive oil, 140 dal"],
    );
    fails(
        "140",
        |kind| matches!(kind, ErrorKind::MissingName | ErrorKind::NotUnderstood),
        &["140"],
    );
    for text in [
        "140 dal, 180 quonk",
        "soup for 4",
        "140 the",
        "130 of",
        "dal dal 5 5 5",
        "2 eggs (50+50) + 30 quonk",
        "had 140 dal but I have not eaten any dal",
        "Forwarded from Jo:\n140 dal, 90 beans",
        "140 dal'); DROP TABLE plates; --",
        "140 dal for 0 people",
        "kitchen scale is stuck on ounces: 5 dal, 3 beans",
    ] {
        assert!(!read(text).best().sure, "{text:?}");
    }
}

// ---- batches

const DAL: &str = "batch lentil dal
500 g red lentils
2 tbsp sunflower oil
1 medium onion
400 ml coconut milk
10 g salt
cooked 2310 g gross, pot 470 g
freezer";

#[test]
fn a_batch_on_many_lines_or_one() {
    books(
        DAL,
        &[
            "batch lentil dal\n500 g red lentils\n2 tbsp sunflower oil\n1 medium onion\n400 ml coconut milk\n10 g salt\ncooked 2310 in the pot, pot 470\nfreezer",
            "batch lentil dal: 500 g red lentils, 2 tbsp sunflower oil, 1 medium onion, 400 ml coconut milk, 10 g salt, cooked 2310 in the pot, pot 470, freezer",
            "Batch of lentil dal; red lentils 500g; sunflower oil 2 tbsp; 1 medium onion; coconut milk 400ml; salt 10g; cooked: 2310 g in the pot, pot is 470; in the freezer",
            "new batch lentil dal - 500 g red lentils, 2 tbsp of sunflower oil, one medium onion, 400 ml of coconut milk, salt: 10 g. Cooked 2310 in the pot, pot 470. In the freezer.",
            "batch lentil dal\r\n- 500 g red lentils\r\n- 2 tbsp sunflower oil\r\n- 1 medium onion\r\n- 400 ml coconut milk\r\n- 10 g salt\r\n\r\ncooked 2310 in the pot (470)\r\nfreezer",
            "batch lentil dal with 500 g red lentils and 2 tbsp sunflower oil and 1 medium onion and 400 ml coconut milk and 10 g salt, cooked 2310 in the pot, pot 470, into the freezer",
            "batch lentil dal\n500 g red lentils\n2 tbsp sunflower oil\n1 medium onion, finely chopped\n400 ml coconut milk\n10 g salt\n2310 in the pot, pot 470\nfreezer",
        ],
    );
    books(
        "raw batch slaw\n500 g cabbage\n2 carrots",
        &[
            "batch slaw raw: 500 g cabbage, 2 carrots",
            "batch raw slaw\n500 g cabbage\n2 carrots",
            "batch slaw (raw)\n500 g cabbage\n2 carrots",
            "batch slaw\n500 g cabbage\n2 carrots\nraw",
        ],
    );
    books(
        "batch dal\ncooked 1840 g",
        &[
            "batch dal cooked 1840",
            "batch dal, net 1840",
            "batch dal: cooked weight 1840 g",
            "batch dal weighs 1840",
            "batch dal; total 1840",
            "batch dal\n1840 net",
        ],
    );
    books(
        "batch dal\n500 g lentils\nmade Sunday",
        &[
            "batch dal\n500 g lentils\ncooked Sunday",
            "batch dal made on Sunday: 500 g lentils",
            "batch dal: 500 g lentils, made Sunday",
        ],
    );
    means(
        "batch dal\n500 g lentils\n2 onions",
        &[
            "made dal with 500 g lentils and 2 onions",
            "cooked dal: 500 g lentils, 2 onions",
            "made dal\n500 g lentils\n2 onions",
        ],
    );
    books(
        "batch stew\n1 kg beef\npoured off 35 g fat"
            .replace("1 kg", "1000 g")
            .as_str(),
        &[
            "batch stew\n1 kg beef\ndrained 35 g fat",
            "batch stew: 1kg beef, drained off 35 g of fat",
        ],
    );
}

#[test]
fn weighings() {
    for (meaning, spellings) in [
        (
            "cooked 1240 g + 1130 g, bowl 412 g, 2 bags 9 g each",
            &[
                "cooked 1240 + 1130, bowl 412, 2 bags 9 each",
                "cooked 1240+1130, bowl 412, 2 bags at 9",
                "cooked 1240 and 1130, bowl 412, 2 bags (9 g each)",
                "finished 1240 + 1130 less bowl 412 and 2 bags 9 each",
            ][..],
        ),
        (
            "cooked 3000 g gross, tare 900 g, tare 40 g",
            &[
                "cooked 3 kg gross, tare 900 g and 40 g",
                "gross 3 kg gross, tare 900 and 40",
            ],
        ),
        (
            "cooked 1871.068526 g, pan 453.59237 g",
            &["finished 4 lb 2 oz, pan 1 lb", "cooked 4 lb 2 oz, pan 1 lb"],
        ),
        (
            "cooked 2310 g, tare 470 g",
            &[
                "cooked 2310 less 470",
                "cooked 2310 - 470",
                "cooked 2310 minus 470",
                "cooked 2310, tare 470",
            ],
        ),
        (
            "cooked 3050 g in the blue pot",
            &[
                "in the blue pot 3050",
                "cooked 3050 in the blue pot",
                "3050 in the blue pot",
            ],
        ),
        (
            "cooked 2310 g, less blue pot",
            &[
                "cooked 2310 less the blue pot",
                "cooked 2310, minus the blue pot",
            ],
        ),
        (
            "cooked 1840 g",
            &[
                "cooked 1840",
                "weighs 1840 net",
                "net 1840",
                "cooked weight 1840",
                "total 1840",
                "cooked 1,840 g",
                "cooked 1.84 kg",
                "1840 net",
                "came to 1840",
            ],
        ),
    ] {
        for spelling in spellings {
            means(
                &format!("batch dal\n500 g lentils\n{meaning}"),
                &[
                    format!("batch dal\n500 g lentils\n{spelling}").as_str(),
                    format!("batch dal: 500 g lentils; {spelling}").as_str(),
                ],
            );
        }
    }
    // Of one bag or of both? And nothing that is no mass weighs a batch.
    lines(
        &["500 g lentils", "? cooked 2310, 2 bags 18"],
        "batch dal\n500 g lentils\ncooked 2310, 2 bags 18",
    );
    lines(
        &["500 g lentils", "? cooked 0"],
        "batch dal\n500 g lentils\ncooked 0",
    );
    lines(
        &["500 g lentils", "? cooked 1e9"],
        "batch dal\n500 g lentils\ncooked 1e9",
    );
}

#[test]
fn ingredient_lines() {
    ingredient(
        "500 g red lentils",
        &[
            "500 g red lentils",
            "500g red lentils",
            "red lentils 500 g",
            "red lentils: 500g",
            "0.5 kg red lentils",
            "1/2 kg red lentils",
            "500 g of red lentils",
            "- 500 g red lentils",
            "500 g red lentils (organic)",
            "red lentils - 500 g",
            "500 grams red lentils",
            "500 g red lentils, rinsed",
        ],
    );
    ingredient(
        "2 can (400 g each) tomatoes",
        &[
            "2 tins of 400 g tomatoes",
            "2 cans (400 g each) tomatoes",
            "2 cans tomatoes (400 g each)",
            "2 x 400 g tins tomatoes",
            "2 400g tins of tomatoes",
            "2 (400 g) cans tomatoes",
        ],
    );
    ingredient(
        "800 g tomatoes",
        &[
            "2 x 400 g tomatoes",
            "2x400g tomatoes",
            "2 × 400 g tomatoes",
        ],
    );
    ingredient(
        "1 can (400 g each) chickpeas",
        &[
            "400 g can chickpeas",
            "1 x 400 g can chickpeas",
            "a 400 g tin of chickpeas",
        ],
    );
    ingredient(
        "1 (110 g) onion",
        &[
            "1 onion (110 g)",
            "1 onion, 110 g",
            "1 onion (about 110 g), chopped",
        ],
    );
    ingredient(
        "2 clove garlic",
        &[
            "2 cloves garlic",
            "2 cloves of garlic, crushed",
            "garlic 2 cloves",
            "garlic: 2 cloves",
            "two cloves garlic",
        ],
    );
    ingredient("2 bay leaves", &["2 bay leaves", "two bay leaves"]);
    ingredient("0.5 x onion", &["half an onion", "half an onion, diced"]);
    ingredient("salt to taste", &["salt to taste", "salt, to taste"]);
    ingredient(
        "a pinch of salt",
        &[
            "a pinch of salt",
            "pinch salt",
            "pinch of salt",
            "salt, a pinch",
            "two pinches of salt",
        ],
    );
    ingredient(
        "a splash of vinegar",
        &["a splash of vinegar", "splash of vinegar"],
    );
    ingredient(
        "1 cup sliced carrots",
        &[
            "1 cup sliced carrots",
            "1 cup of sliced carrots",
            "1 cup carrots, sliced",
            "1 c. sliced carrots",
        ],
    );
    ingredient("1 large eggs", &["1 large eggs"]);
    ingredient("340 g pasta", &["12 oz/340 g pasta", "12 oz (340 g) pasta"]);
    ingredient(
        "1 tbsp oil",
        &[
            "1 tbsp oil",
            "1 tablespoon oil",
            "1 T oil",
            "1 EL oil",
            "1 c a s oil",
            "1 cucharada oil",
        ],
    );
    ingredient(
        "1 tsp oil",
        &["1 tsp oil", "1 teaspoon of oil", "1 t oil", "1 TL oil"],
    );
    ingredient("salt", &["salt"]);
}

#[test]
fn one_unclear_line_never_loses_the_rest() {
    lines(
        &["? 12 quonks flour", "10 g salt"],
        "batch x\n12 quonks flour\n10 g salt",
    );
    lines(
        &[
            "? 0 g salt",
            "? 200 kg rice",
            "? 1.2.3 g cumin",
            "500 g lentils",
        ],
        "batch x\n0 g salt\n200 kg rice\n1.2.3 g cumin\n500 g lentils",
    );
    lines(&["? 5 g", "500 g lentils"], "batch x\n5 g\n500 g lentils");
    let parsed = read("batch x\n12 quonks flour");
    let Some(Command::Batch(batch)) = parsed.best().commands.first() else {
        panic!("a batch");
    };
    assert!(
        matches!(&batch.lines[0].content, LineContent::Unclear(error) if error.kind == ErrorKind::UnknownUnit("quonks".into()))
    );
}

#[test]
fn parts_of_a_batch() {
    let expected = [
        "marinade: 100 ml soy sauce",
        "marinade: 20 g honey",
        "1000 g pork",
    ];
    lines(
        &expected,
        "batch ribs\nmarinade:\n100 ml soy sauce\n20 g honey\nrest:\n1 kg pork",
    );
    lines(
        &expected,
        "batch ribs\nfor the marinade\n100 ml soy sauce\n20 g honey\nmain:\n1 kg pork",
    );
    lines(
        &expected,
        "batch ribs\nmarinade: 100 ml soy sauce, 20 g honey\n1 kg pork",
    );
    lines(
        &expected,
        "batch ribs: marinade: 100 ml soy sauce, 20 g honey; 1 kg pork",
    );
    lines(
        &expected,
        "batch ribs\nFor the marinade:\n- 100 ml soy sauce\n- 20 g honey\n\nThe rest:\n- 1 kg pork\ncooked 900",
    );
}

#[test]
fn batches_grow_and_change() {
    books(
        "dal +\n1 tsp cumin",
        &[
            "dal + 1 tsp cumin",
            "dal +1 tsp cumin",
            "add 1 tsp cumin to the dal",
            "dal: + 1 tsp cumin",
            "add to dal: 1 tsp cumin",
            "dal add 1 tsp cumin",
            "dal +\n1 tsp cumin",
            "also add 1 tsp cumin to the dal",
        ],
    );
    books(
        "dal +\n500 g lentils\n1 onion",
        &[
            "dal: + 500 g lentils, 1 onion",
            "dal +\n500 g lentils\n1 onion",
            "dal + 500 g lentils and 1 onion",
        ],
    );
    books(
        "dal line 3: 5 g cumin",
        &[
            "dal line 3: 5 g cumin",
            "dal line 3 = 5 g cumin",
            "dal line 3 -> 5 g cumin",
            "dal line 3 should be 5 g cumin",
            "line 3 of the dal: 5 g cumin",
        ],
    );
    books(
        "dal line 3 off",
        &[
            "dal line 3 off",
            "drop dal line 3",
            "remove line 3 of the dal",
            "dal line 3 out",
        ],
    );
    books(
        "dal weighed 1840 g",
        &[
            "dal weighed 1840",
            "dal weighs 1840",
            "weighed dal 1840",
            "dal weighed in at 1.84 kg",
            "dal cooked 1840",
            "cooked dal 1840",
            "dal net 1840",
            "the dal came to 1840 g",
        ],
    );
    books(
        "dal weighed 2310 g, pot 470 g",
        &["dal cooked 2310, pot 470", "dal weighed 2310, pot 470"],
    );
    books(
        "dal weighed 2310 g gross, pot 470 g",
        &[
            "cooked dal: 2310 in the pot, pot 470",
            "dal cooked 2310 in the pot, pot 470",
        ],
    );
    books(
        "dal weighed 3050 g in the blue pot",
        &[
            "dal in the blue pot 3050",
            "dal weighed 3050 in the blue pot",
        ],
    );
    books("dal weighed 1840 g left", &["dal weighed 1840 left"]);
    books("dal weighed 1840 g whole", &["dal weighed 1840 whole"]);
    books(
        "poured off 120 g marinade",
        &[
            "poured off 120 g marinade",
            "poured off 120 g of the marinade",
            "drained 120 g marinade",
            "I poured off 120 g marinade",
        ],
    );
    books(
        "dal poured off 120 g brine",
        &[
            "dal poured off 120 g brine",
            "drained 120 g brine from the dal",
            "poured off 120 g brine off the dal",
        ],
    );
}

// ---- questions

#[test]
fn questions() {
    books(
        "what's left",
        &[
            "what's left",
            "whats left?",
            "what is left",
            "What’s left",
            "stock",
            "what have we got?",
        ],
    );
    books(
        "what's in the freezer",
        &[
            "what's in the freezer",
            "whats in the freezer?",
            "what do we have in the freezer",
            "freezer?",
        ],
    );
    books(
        "how much dal",
        &[
            "how much dal",
            "how much dal is left?",
            "how much of the dal is left",
            "how much dal do we have",
            "any dal left?",
            "dal left?",
        ],
    );
    books(
        "how many portions of dal",
        &[
            "how many portions of dal",
            "how many portions of dal are left?",
            "how many servings of the dal",
        ],
    );
    books(
        "kcal in 2 medium onions",
        &[
            "kcal in 2 medium onions",
            "how many calories in 2 medium onions",
            "calories in 2 medium onions?",
            "kcal 2 medium onions",
            "how many kcal are in 2 medium onions?",
            "2 medium onions kcal",
        ],
    );
    books(
        "kcal in 100 g parsnip",
        &[
            "kcal 100 g parsnip",
            "kcal in 100g parsnip",
            "100 g parsnip kcal?",
            "calories 100 g of parsnip",
        ],
    );
    books(
        "protein in 30 g cheese",
        &[
            "protein in 30 g cheese",
            "how much protein in 30 g cheese?",
            "how much protein is in 30 g of cheese",
        ],
    );
    books(
        "how many grams is 1 cup rice",
        &[
            "how many grams is a cup of rice",
            "how many grams in a cup of rice?",
            "how heavy is a cup of rice",
            "what does a cup of rice weigh",
            "weight of a cup of rice",
        ],
    );
    books("show dal", &["dal?", "show dal", "show me the dal"]);
    books(
        "what did I have today",
        &[
            "what did I have today",
            "what have I eaten today?",
            "what did I eat",
        ],
    );
    books(
        "what did Ana have yesterday",
        &["what did Ana eat yesterday", "what did Ana have yesterday?"],
    );
    books(
        "what is due",
        &[
            "anything about to go off",
            "what's going off?",
            "what needs using up",
        ],
    );
    books(
        "help",
        &[
            "help",
            "/help",
            "/help@hobside",
            "@hobside help",
            "what can you do?",
        ],
    );
    means("help batch", &["help batch", "/help batch"]);
}

#[test]
fn who_is_spoken_to() {
    for text in [
        "/help",
        "/help@hobside",
        "@hobside help",
        "@hobside, 140 dal",
        "hobside: 140 dal",
        "140 dal @hobside",
    ] {
        assert!(read(text).addressed, "{text:?}");
    }
    for text in ["140 dal", "help", "tell @ana 140 dal"] {
        assert!(!read(text).addressed, "{text:?}");
    }
    means(
        "/start AB12-CD",
        &["/start AB12-CD", "/start@hobside AB12-CD"],
    );
    assert!(!matches!(
        read("start the car").best().commands.first(),
        Some(Command::Start { .. })
    ));
}

// ---- what is taught and set

#[test]
fn packets() {
    books(
        "packet miso paste per 100 g: 199 kcal, 12 g protein, 6 g fat, 26 g carbohydrate, 5.4 g fibre, 9.3 g salt",
        &[
            "packet miso paste per 100 g: 199 kcal, 12 protein, 6 fat, 26 carb, 5.4 fibre, salt 9.3 g",
            "packet miso paste 100g: kcal 199, protein 12, fat 6, carbs 26, fibre 5.4, salt 9.3"
                .replace("100g", "per 100g")
                .as_str(),
            "packet miso paste\nper 100 g\nEnergy 199 kcal\nProtein 12 g\nFat 6 g\nCarbohydrate 26 g\nFibre 5,4 g\nSalt 9,3 g",
            "label miso paste per 100 g: 199 kcal 12g protein 6g fat 26g carbs 5.4g fibre 9.3g salt",
        ],
    );
    books(
        "packet crackers per 30 g: 120 calories, 3 g fat, 460 mg sodium, 20 g total carbohydrate, 2 g dietary fiber, 4 g protein",
        &[
            "packet crackers per serving (30 g): Calories 120, Total Fat 3g, Sodium 460mg, Total Carbohydrate 20g, Dietary Fiber 2g, Protein 4g",
            "packet crackers\nServing size 30 g\nCalories 120\nTotal Fat 3g 4%\nSodium 460mg 20%\nTotal Carbohydrate 20g 7%\nDietary Fiber 2g 7%\nProtein 4g",
        ],
    );
    books(
        "packet oats per 100 g: 1567 kJ, 372 kcal, 7 g fat, 1.3 g saturated fat, 59 g carbohydrate, 0.7 g sugars",
        &[
            "packet oats per 100 g: energy 1567 kJ / 372 kcal, fat 7 g of which saturates 1.3 g, carbohydrate 59 g, of which sugars 0.7 g",
            "packet oats per 100g: 1567kJ/372kcal, fat 7g, saturates 1.3g, carbohydrate 59g, sugars 0.7g",
        ],
    );
    fails(
        "packet",
        |kind| matches!(kind, ErrorKind::Malformed { .. }),
        &["packet"],
    );
}

#[test]
fn measures_containers_settings() {
    books(
        "1 ladle of dal = 180 g",
        &[
            "1 ladle dal = 180 g",
            "a ladle of dal is 180 g",
            "1 ladle of dal weighs 180g",
            "one ladle dal = 180",
        ],
    );
    books("1 scoop = 30 g", &["1 scoop = 30 g", "a scoop is 30 g"]);
    books(
        "blue pot is 812 g",
        &["blue pot is 812 g", "blue pot = 812"],
    );
    books(
        "blue pot is 812 g empty",
        &[
            "blue pot is 812 g empty",
            "the blue pot weighs 812 empty",
            "tare of the blue pot is 812 g",
            "blue pot empty 812",
        ],
    );
    books(
        "blue pot holds dal",
        &[
            "blue pot holds dal",
            "the dal is in the blue pot",
            "the blue pot has the dal",
        ],
    );
    books("brief", &["brief", "short answers"]);
    books("full answers", &["full answers"]);
    books("react only", &["react only", "thumbs"]);
    books("metric cups", &["metric cups", "use metric cups"]);
    books("us cups", &["us cups"]);
    books("australian cups", &["australian cups"]);
    books("uk cups", &["uk cups"]);
    books(
        "timezone Europe/Dublin",
        &[
            "timezone Europe/Dublin",
            "time zone Europe/Dublin",
            "set timezone to Europe/Dublin",
        ],
    );
    books("timezone America/New_York", &["timezone America/New_York"]);
}

// ---- corrections and choices

#[test]
fn corrections() {
    books(
        "make it 160",
        &["make it 160", "make that 160", "no, 160", "sorry, 160"],
    );
    books("make it 160 g", &["make it 160 g"]);
    books(
        "no, 31 not 13",
        &["no, 31 not 13", "no 31 not 13", "oops, 31 not 13"],
    );
    books(
        "no, 160 dal not 140",
        &["160 not 140 dal", "no, 160 dal not 140"],
    );
    means(
        "it was barley not rice",
        &[
            "it was barley not rice",
            "barley not rice",
            "no, barley not rice",
            "change rice to barley",
        ],
    );
    means("that was hers", &["that was hers", "hers"]);
    means("that was for Ana", &["that was Ana's", "that was for Ana"]);
    means(
        "that was yesterday lunch",
        &["that was yesterday's lunch", "that was for yesterday lunch"],
    );
    books(
        "take the beans off",
        &[
            "take the beans off",
            "take off the beans",
            "remove the beans",
        ],
    );
    books(
        "put back 80 dal",
        &["put back 80 dal", "put 80 dal back", "80 dal went back"],
    );
    books("undo", &["undo", "take that back", "oops undo", "/undo"]);
    books("redo", &["redo", "undo that undo"]);
    books("cancel", &["cancel", "drop it", "never mind"]);
    books("same as yesterday", &["same as yesterday"]);
    books("my usual", &["my usual", "the usual"]);
}

#[test]
fn corrections_of_an_amount() {
    means(
        "make it 105",
        &["*105", "105*", "*105 sorry", "105 i mean", "typo - 105"],
    );
    means("no, 95 rice not 80", &["rice 95 not 80", "95 rice, not 80"]);
    means(
        "make it 115 rice",
        &[
            "the rice should be 115",
            "rice shouldve been 115",
            "bump the rice up to 115",
            "nah make the rice 115",
        ],
    );
    means(
        "make it 160 for Ana",
        &[
            "make Ana's 160",
            "Anas should be 160",
            "Ana's was 160 actually",
            "change Ana's to 160",
        ],
    );
    means(
        "make it 160 dal for Ana",
        &["make Ana's dal 160", "Ana's dal should be 160"],
    );
    means(
        "make it 130 for mine",
        &[
            "mine was 130",
            "mine should be 130",
            "actually mine was 130",
        ],
    );
    means("no, 130 not 150 for Ana", &["Ana's should be 130 not 150"]);
    means(
        "make it times 2",
        &[
            "double that",
            "make it double",
            "twice that",
            "actually double that",
        ],
    );
    means(
        "make it times 0.5",
        &["half that", "halve it", "half that, misread the scale"],
    );
    means(
        "make it times 2 rice",
        &["double the rice", "make the rice double"],
    );
    means(
        "60 more",
        &[
            "60 more",
            "another 60",
            "seconds, 60",
            "seconds! 60",
            "went back for seconds, 60 more",
        ],
    );
    means(
        "plus 20 rice",
        &[
            "add another 20 to the rice",
            "add 20 to the rice",
            "seconds: 20 rice",
        ],
    );
    means(
        "put back 50",
        &[
            "put 50 back",
            "left 50 of it",
            "couldnt finish it, left 50",
            "put 50 back in the pot",
            "50 less",
        ],
    );
    means(
        "put back 50 rice",
        &[
            "50 less rice",
            "knock 50 off the rice",
            "too much rice, put 50 back",
        ],
    );
    means(
        "other way round",
        &[
            "other way round",
            "swap those two numbers",
            "got those mixed up, swap them",
        ],
    );
}

#[test]
fn corrections_of_whose_it_was() {
    means(
        "that was for Ana",
        &[
            "oh wait that one's Ana's",
            "thats hers not mine, Ana",
            "wasnt me that was Ana",
        ],
    );
    means(
        "that was hers",
        &["that was hers not mine", "thats hers", "oops that was hers"],
    );
    means(
        "all of that was for Ana",
        &["all of that was Ana's", "both of those were Ana's"],
    );
    means(
        "the dal was for Ana",
        &[
            "that dal was Ana's",
            "the dal was Anas",
            "gave the dal to Ana",
        ],
    );
    means(
        "50% of it was for Ana",
        &[
            "half of that was Ana's",
            "gave half of it to Ana",
            "Ana had half of that",
        ],
    );
    means(
        "30 g of the dal was for Ana",
        &["gave 30 of my dal to Ana", "30 of the dal was Ana's"],
    );
    means(
        "50 g of it was for Ana",
        &["gave Ana 50 of mine", "Ana pinched 50 of it"],
    );
    means(
        "that was split between me and Ana",
        &[
            "split that w Ana",
            "shared that with Ana",
            "split it with Ana btw",
        ],
    );
    means(
        "that was, 60% for me, 40% for Ana",
        &["split that 60/40 with Ana"],
    );
}

#[test]
fn plates_eaten_again() {
    means(
        "same for me",
        &["same for me", "ditto", "same here", "same for me pls"],
    );
    means(
        "same again",
        &["same again", "same as before", "seconds, same again"],
    );
    means(
        "same again for Ana",
        &[
            "Ana had the same",
            "same for Ana",
            "oh and Ana had the same",
        ],
    );
    means(
        "same as Ana",
        &["same as Ana", "what Ana had", "same as what Ana had"],
    );
    means(
        "same as Ana, no rice",
        &[
            "same as Ana but no rice",
            "same as Ana, no rice",
            "same as Ana without the rice",
        ],
    );
    means(
        "same as Ana, times 0.5 rice",
        &[
            "same as Ana but half the rice",
            "what Ana had, half the rice",
        ],
    );
    means(
        "same as Ana, plus 30 cheddar",
        &[
            "same as Ana but with 30 cheddar on top",
            "same as Ana plus 30 cheddar",
        ],
    );
    means(
        "same as Ana, but 90 rice",
        &["same as Ana but 90 rice", "same as Ana but only 90 rice"],
    );
    means(
        "times 0.5 same as Ana",
        &["half of what Ana had", "i'll have half of what Ana had"],
    );
    means(
        "my usual, but 145 dal",
        &[
            "same bowl as always but 145 dal this time",
            "my usual but 145 dal today",
        ],
    );
    means(
        "same as yesterday, no rice",
        &["same as yesterday but no rice"],
    );
    means(
        "same as Ana, but only the rice",
        &[
            "same rice as Ana",
            "same amount of rice as Ana",
            "same rice as what Ana had",
        ],
    );
    means(
        "same for me, but 150",
        &[
            "same but 150",
            "ditto, 150",
            "same for me but 150 this time",
            "150 here",
            "150 too",
            "and 150 for me please",
            "put me down for 150 too",
            "150 of the same",
        ],
    );
}

#[test]
fn choices() {
    books("yes", &["yes", "y", "Yep", "ok", "YES!", "yes please"]);
    books("no", &["no", "n", "nope"]);
    books(
        "option 2",
        &[
            "2",
            "2.",
            "#2",
            "the second",
            "second",
            "the second one",
            "option 2",
            "2nd",
        ],
    );
    books("option 1", &["1", "the first", "first one", "one"]);
}

#[test]
fn counts_and_waste() {
    books(
        "recount: soup 1210 g",
        &[
            "recount: soup 1210",
            "recount soup 1210",
            "count soup 1210 g",
            "recount: 1210 soup",
        ],
    );
    books(
        "recount: soup 1210 g; beans 400 g",
        &[
            "recount: soup 1210, beans 400",
            "recount\nsoup 1210\nbeans 400",
        ],
    );
    books(
        "binned 150 beans",
        &[
            "binned 150 beans",
            "threw out 150 beans",
            "tossed 150 of the beans",
            "I binned 150 beans",
        ],
    );
    books(
        "binned 120 rice, slimy",
        &[
            "binned 120 rice, slimy",
            "threw away 120 rice because slimy",
            "binned 120 rice - slimy",
        ],
    );
}

#[test]
fn not_there_yet_is_understood() {
    let parsed = read("no more than 60 g cheddar a day for me, hold me to it");
    assert!(
        matches!(parsed.best().commands.first(), Some(Command::NotYet { .. })),
        "{:?}",
        parsed.best()
    );
}

// ---- silence

#[test]
fn talk_is_left_alone() {
    silent(&[
        "can you get 2 milk and 6 eggs on the way home",
        "milk, eggs, bread, 2 onions",
        "rice is 2.50 a kilo at the market",
        "bus at 7:40, dinner at 8",
        "we need 500 g flour for saturday",
        "oven at 200 for 25 minutes",
        "preheat to 180C",
        "that soup was great",
        "the dal was delicious, had two plates!",
        "I'll cook rice tomorrow",
        "if you want, there are 3 eggs left",
        "the recipe says 200 g butter",
        "who ate the last 2 yoghurts?",
        "is 140 dal enough?",
        "could you warm up 140 g dal for me",
        "put 140 dal in a box for ana",
        "save me 140 dal",
        "try 140 dal with 100 rice",
        "200 rice for the freezer",
        "leave 300 g rice for tomorrow",
        "ana wants 140 dal",
        "soup needs 10 more minutes",
        "roast chicken 1.8kg 12.50",
        "salsa 250 g 2.99",
        "1 kg rice 3.99",
        "5 kg rice on offer",
        "5 kg rice arrived",
        "20% off rice",
        "rice 2 go",
        "2 soups please",
        "dal recipe: 500 g lentils, 1 onion",
        "add 500 g rice to the order",
        "weighed myself: 72",
        "the cat weighs 4.2 kg",
        "count 12 chairs",
        "tossed the salad",
        "how much is the rice",
        "how much milk do we need",
        "calories are a scam",
        "batch cooking sunday?",
        "a coffee",
        "some water",
        "a cup of tea",
        "500 g butter",
        "a dozen eggs",
        "2 l milk",
        "100 g is 3.5 oz",
        "energy bill came, 240",
        "140 people came for soup",
        "soup 2",
        "had 3 meetings and a busy day",
    ]);
}

#[test]
fn talk_beside_a_weighing() {
    books(
        "130 tomato soup",
        &[
            "the bus was 40 minutes late but finally had my 130 tomato soup",
            "got home at 7, 130 tomato soup, shower, bed",
            "spent 12 bucks on lunch so only had 130 tomato soup",
            "130 tomato soup while the kettle boils",
            "130 tomato soup, no rice",
            "that soup is amazing, 130 tomato soup",
            "can someone write down 130 tomato soup",
            "my feet hurt so much... 130 tomato soup and bed",
        ],
    );
    books("130 tomato soup at 6:30", &["half past 6, 130 tomato soup"]);
    silent(&[
        "if there is any left 130 tomato soup",
        "the recipe says 130 tomato soup, seems low",
        "lets do it tomorrow, 130 tomato soup",
        "bought 12 eggs, 130 rice",
        "my soup, 14 people coming, 200 rice each",
        "she had a rough day, she ate 130 tomato soup",
    ]);
}

#[test]
fn several_commands_in_one_message() {
    means(
        "140 dal\nbinned 90 beans",
        &["140 dal, binned 90 beans", "140 dal and binned 90 beans"],
    );
    means(
        "140 dal, 60 rice\nbinned 90 beans",
        &[
            "140 dal, 60 rice, binned 90 beans",
            "140 dal. 60 rice. binned 90 beans",
        ],
    );
}

#[test]
fn put_right_in_the_same_breath() {
    books(
        "220 dal, 100 rice",
        &[
            "had 200 dal, no sorry that was 220, plus 100 rice",
            "200 no wait 220 dal, 100 rice",
            "200 dal, scratch that, 220 dal and 100 rice",
        ],
    );
    books("140 salsa", &["140 dal.. actually no make that salsa"]);
    books("140 dal", &["140 dal no rice", "140ish no exactly 140 dal"]);
}

#[test]
fn rows_of_names_and_amounts() {
    books(
        "140 dal, 180 rice",
        &[
            "dal and rice, 140 and 180",
            "dal, rice: 140, 180",
            "dal with rice, 140 and 180 respectively",
        ],
    );
    books("85 beans black", &["beans, black, 85"]);
    books("50% of the dal, 80 dal", &["half the dal then another 80"]);
    books(
        "130 g dal",
        &[
            "150 dal less 20 for the spoon",
            "all but 20 of 150 dal",
            "150 dal, left 20 of it",
        ],
    );
    books("130 tomato soup", &["130 of the tomato one"]);
    books(
        "130 Sunday's dal",
        &[
            "130 of the dal from sunday",
            "130 of the dal we made on sunday",
        ],
    );
}

#[test]
fn corrections_of_several_lines() {
    means(
        "make it 90 dal\nmake it 150 rice",
        &[
            "sorry, dal 90, rice 150",
            "oops, 90 dal and 150 rice",
            "I meant 90 dal, 150 rice",
        ],
    );
    means(
        "make it 160 dal\ntake the rice off",
        &[
            "dal was 160, no rice",
            "the dal should be 160, there was no rice",
            "make the dal 160 and drop the rice",
            "the dal should be 160 and get rid of the rice",
        ],
    );
    means("make it 102 dal", &["the dal entry should be 102"]);
    means(
        "undo\n130 dal",
        &[
            "undo. 130 dal",
            "scrap that, 130 dal",
            "undo that and put 130 dal instead",
        ],
    );
    means(
        "make it 240",
        &["undo that, it was 240", "20 more, no, make it 240"],
    );
    means(
        "it was 190 dal not rice",
        &[
            "it was 190 dal not rice",
            "undo that, it was 190 dal not rice",
        ],
    );
}

#[test]
fn corrections_of_a_part() {
    means(
        "that was, 50% for me, the rest for Ana",
        &[
            "halve that, the other half was Ana's",
            "halve it, Ana had the other half",
            "only half of that was mine, Ana had the rest",
        ],
    );
    means(
        "that was, 200 g for me, 100 g for Ana",
        &[
            "I only had 200 of that, the other 100 was Ana's",
            "make that 200, Ana had the other 100",
        ],
    );
    means(
        "all but the dal was for Ana",
        &[
            "everything but the dal was Ana's",
            "all of that was Ana's except the dal",
            "that was Ana's, only the dal was mine",
            "all of it was Ana's apart from the dal",
        ],
    );
}

#[test]
fn parts_of_what_was_weighed() {
    means(
        "300 dal, 50% for Ana",
        &[
            "300 dal, half of it is for Ana",
            "300 dal, half of which went to Ana",
            "300 dal but half was Ana's",
        ],
    );
    means(
        "300 dal, 100 g of it for Ana",
        &["300 dal and 100 of that goes to Ana"],
    );
    means(
        "450 dal, 200 g for Ana, the rest for the other two",
        &["450 dal for three, Ana had 200 of it"],
    );
    means(
        "90 dal, 90 beans",
        &["90 each of dal and beans", "90 of both dal and beans"],
    );
    means(
        "times 2 same as Ana",
        &["double what Ana had", "had twice what Ana had"],
    );
}
