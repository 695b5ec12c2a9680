//! Many spellings of what is said of dishes that were cooked before; and talk of the same, which is nobody's business.

use crate::lang::spelled::{is_no, means, surely_means};
use crate::lang::{Command, Sense, Vocabulary};

fn kitchen() -> Vocabulary {
    Vocabulary::new()
        .with(Sense::Batch, "lentil dal")
        .with(Sense::Batch, "brown rice")
        .with(Sense::Person, "Ana")
}

#[track_caller]
fn asks(texts: &[&str], printed: &str) {
    for text in texts {
        means(text, &kitchen(), printed);
    }
}

#[track_caller]
fn surely(texts: &[&str], printed: &str) {
    for text in texts {
        surely_means(text, &kitchen(), printed);
    }
}

#[test]
fn another_pot_of_a_dish() {
    asks(
        &[
            "dal again please",
            "dal again!",
            "make the dal again",
            "cook dal once more",
            "another batch of dal as last time",
            "making dal again tonight",
            "doing the dal again",
            "we're doing dal again tonight",
            "making dal like last time",
        ],
        "dal again",
    );
    surely(&["dal again"], "dal again");
    surely(
        &[
            "dal x1.5",
            "dal x 1.5",
            "dal 1.5x",
            "dal again x1.5",
            "1.5x the dal recipe",
            "1.5x dal",
        ],
        "dal again x 1.5",
    );
    surely(
        &[
            "double the dal recipe",
            "a double batch of dal again",
            "dal recipe x2",
        ],
        "dal again x 2",
    );
    surely(
        &[
            "half a batch of dal",
            "dal again but half",
            "dal again, half as much",
        ],
        "dal again x 0.5",
    );
    // Somebody may be told so who stands at the stove.
    asks(
        &[
            "making dal like last time, double",
            "doing the dal again but twice as much",
        ],
        "dal again x 2",
    );
    surely(
        &[
            "dal again for 3 kg",
            "dal again, 3 kg cooked",
            "dal recipe for 3000 g",
        ],
        "dal again for 3000 g cooked",
    );
}

#[test]
fn what_is_different_this_time() {
    surely(
        &[
            "dal again with 700 g lentils",
            "dal again, using 700 g lentils",
        ],
        "dal again, with 700 g lentils",
    );
    // A plate may be told so as well.
    asks(
        &["dal again, with 700 g lentils"],
        "dal again, with 700 g lentils",
    );
    surely(
        &[
            "dal again without salt, plus 2 carrots",
            "dal again, no salt, add 2 carrots",
            "dal again minus the salt and extra 2 carrots",
        ],
        "dal again, without salt, plus 2 carrots",
    );
    surely(
        &[
            "dal again, no salt and 40 g oil",
            "dal again without salt, 40 g oil",
        ],
        "dal again, without salt, but 40 g oil",
    );
    asks(
        &[
            "dal again with 15 g salt instead of 10",
            "dal again, 15 g salt instead of 10 g",
        ],
        "dal again, but 15 g salt",
    );
    asks(&["same but x2", "same again but double"], "same recipe x 2");
    surely(
        &[
            "dal again only 300 g lentils",
            "dal again with just 300 g lentils",
        ],
        "dal again, with 300 g lentils",
    );
    surely(
        &[
            "dal again but ghee for oil",
            "dal again, ghee instead of the oil",
        ],
        "dal again, but ghee instead of oil",
    );
    surely(
        &["dal again but 30 g ghee for the oil and 3 onions"],
        "dal again, but 30 g ghee instead of oil, but 3 onions",
    );
    surely(
        &[
            "same but ghee for oil",
            "same again but with ghee instead of oil",
        ],
        "same recipe, but ghee instead of oil",
    );
    surely(
        &["same recipe but no salt", "the same batch without salt"],
        "same recipe, without salt",
    );
}

#[test]
fn what_is_asked_of_recipes() {
    surely(
        &[
            "recipe dal",
            "recipe for the dal?",
            "show me the recipe for dal",
            "show the dal recipe",
        ],
        "recipe for dal",
    );
    asks(
        &[
            "dal recipe",
            "how do we make dal?",
            "how do we make the dal",
            "what went into the dal?",
        ],
        "recipe for dal",
    );
    surely(&["recipe for dal x2"], "recipe for dal x 2");
    surely(
        &["recipe for dal for 3 kg"],
        "recipe for dal for 3000 g cooked",
    );
    surely(
        &[
            "how did the last three dals compare?",
            "compare the last 3 dals",
            "compare dals",
            "how did the last dals turn out",
        ],
        "compare the last 3 dals",
    );
    surely(
        &["compare the last three batches of dal", "compare dal"],
        "compare the last 3 dal",
    );
    surely(
        &["how did the last three compare?", "compare the last 3"],
        "compare the last 3",
    );
}

#[test]
fn what_is_asked_of_how_dishes_go() {
    surely(
        &[
            "how fast do we go through rice?",
            "how fast does the rice go",
            "how much rice do we eat a week?",
        ],
        "how fast do we go through rice",
    );
    surely(
        &[
            "when does the rice run out?",
            "when do we run out of rice",
            "how long will the rice last?",
            "days of cover for rice",
            "how many days of rice do we have left?",
        ],
        "when do we run out of rice",
    );
    asks(
        &[
            "are we getting through the rice?",
            "how are we getting on with the rice",
        ],
        "how fast do we go through rice",
    );
    surely(&["what runs out first?", "days of cover"], "days of cover");
    asks(
        &["who eats the rice?", "who eats most of the rice"],
        "who eats rice",
    );
    surely(
        &[
            "what does the dal cost?",
            "how much did the dal cost us",
            "cost of a portion of dal",
        ],
        "what does dal cost",
    );
    surely(
        &[
            "what did we spend on food this week?",
            "how much did we spend on food",
        ],
        "what did we spend on food this week",
    );
    surely(
        &["food bill in October", "what did food cost us in october"],
        "what did we spend on food in October",
    );
}

#[test]
fn talk_of_dishes_asks_nothing() {
    let such = |command: &Command| matches!(command, Command::Cookbook(_));
    for text in [
        "dal again!",
        "ugh dal again",
        "dal again?? thats 4 days running",
        "make the rice double",
        "make it times 2 rice",
        "double the rice",
        "double the dal next time",
        "doing the dishes again",
        "not doing the dal again",
        "dal again but half of us are out",
        "doing the school run again, double quick",
        "are we getting through this or not",
        "are we getting through the rice before Friday or what",
        "dal recipe: 500 g lentils, 1 onion",
        "my mum wants the dal recipe, she does 2 cups lentils to 5 of water",
        "whats ur dal recipe my mate wants it",
        "your aunt is asking for the dal recipe again",
        "the recipe wants 150 dal and 300 water",
        "recipe says 400 dal to 300 stock, 20 min",
        "dal with 150 rice",
        "same again",
        "same but no rice",
        "same again but 10 lighter",
        "who eats rice with a fork",
        "who ate the rice",
        "how fast does it go",
        "the rice cost 3 euro",
        "what does it cost",
        "how do you make dal",
        "compare notes",
        "how did the last one go",
        "if dal again x2 works ill be happy",
        "make a double batch of dal again",
        "soup for 4",
        "dal is 1600 on the scale not 1840",
    ] {
        is_no(text, &kitchen(), such);
    }
}
