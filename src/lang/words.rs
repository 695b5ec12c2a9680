//! The word lists under `data/`: phrases of folded words and what each stands for.
//!
//! A line of a file is `key: phrase, phrase` or a bare `phrase`, which is its own key; `#` starts a
//! comment. A second language is more lines.

use std::sync::OnceLock;

use super::phrases::{Library, Lists};
pub use super::phrases::{Listed, Phrases};

/// All lists, read at first use.
pub(super) fn library() -> &'static Library {
    static LIBRARY: OnceLock<Library> = OnceLock::new();
    LIBRARY.get_or_init(|| Library::read(FILES))
}

/// Define the lists: one function each.
macro_rules! lists {
    ($($(#[$doc:meta])* $name:ident = $file:literal;)*) => {
        #[allow(non_camel_case_types)]
        enum Place { $($name),* }
        const FILES: &[&str] = &[$(include_str!(concat!("data/", $file))),*];
        const _: () = assert!(FILES.len() <= Lists::BITS as usize);
        $(
            $(#[$doc])*
            pub fn $name() -> &'static Phrases {
                library().list(Place::$name as usize)
            }
        )*
    };
}

lists! {
    /// "fifteen", "twenty": the key is the value.
    number_words = "numbers.txt";
    /// What a number sounds like: the key is its value, and whether it may be the word itself.
    heard = "heard.txt";
    /// "kg", "tbsp": the key is `mass FACTOR` or `volume UNIT [FACTOR]`.
    units = "units.txt";
    /// "clove", "can": the key is the singular.
    measures = "measures.txt";
    /// Measures that come with a weight printed on them: "can", "pack".
    packages = "packages.txt";
    /// "pinch", "splash", "to taste": amounts that are named and not counted.
    vague = "vague.txt";
    /// Words that choose among a food's rows: "sliced", "grated".
    qualifiers = "qualifiers.txt";
    /// What a cook does to an ingredient and what it is for: "peeled", "finely", "to serve".
    preparation = "preparation.txt";
    /// States that make another food of it: "raw", "cooked", "dried".
    states = "states.txt";
    /// Things that food stands in: "pot", "bag".
    containers = "containers.txt";
    /// What words beside a weight on the scale say of it: "gross", "less", "in".
    scale = "scale.txt";
    /// Things to cook in.
    pots = "pots.txt";
    /// "freezer", "fridge".
    places = "places.txt";
    /// "had", "ate", "some": words that carry nothing in a portion.
    fillers = "fillers.txt";
    /// Where wasted food goes: "in the bin".
    waste_tails = "waste_tails.txt";
    went_in = "went_in.txt";
    /// Where a dish is kept now: the key is the part.
    stands_in = "stands_in.txt";
    /// What is said of food that was lost: the key is how.
    losses = "losses.txt";
    /// What became of a part that nobody ate, and words that refer to what was told: the key is which.
    fates = "fates.txt";
    /// What is said of food that is weighed where it is kept: the key is the part.
    counts = "counts.txt";
    /// How it is told that something came to stand here: the key is whence.
    received = "received.txt";
    /// What stands before a printed date.
    dates = "dates.txt";
    /// How long the household keeps a dish: the key is the part.
    keeps = "keeps.txt";
    /// What a batch is counted in: the key is one of them.
    pieces = "pieces.txt";
    /// What is taken by the piece, and what is not: the key is the part.
    by_piece = "by_piece.txt";
    /// How it is told that a batch is so many pieces: the key is where it stands.
    counted_out = "counted_out.txt";
    /// What timers and reminders are told with: the key is the part.
    clock = "clock.txt";
    /// What people choose for themselves and ask of what they ate: the key is the part.
    personal = "personal.txt";
    /// What people cannot have or leave out: the key is the part.
    avoid = "avoid.txt";
    allergen_words = "allergen_words.txt";
    /// Who is at the table, and what they are called: the key is the part.
    people = "people.txt";
    finder = "finder.txt";
    /// What is done at the stove.
    kitchen_acts = "kitchen_acts.txt";
    /// Verbs of a move to or from a place: done, or asked for.
    moves = "moves.txt";
    /// What leads in what is put right of stock.
    slips = "slips.txt";
    /// What is said of food that stays while the rest is moved: the key is the part.
    kept_back = "kept_back.txt";
    /// What the words around a dish say of whether it lies on a plate: the key is what.
    explained = "explained.txt";
    /// What is said of a dish in a recount beside a weight: the key is the part.
    recounts = "recounts.txt";
    /// What is asked of the date of a dish: the key is the part.
    dates_asked = "dates_asked.txt";
    /// What a report is asked for with, and a price told: the key is the part.
    reports = "reports.txt";
    /// What is said of food that nobody weighed: the key is the part.
    takings = "takings.txt";
    tares = "tares.txt";
    /// What is said of food that a count misses: the key is the part.
    claims = "claims.txt";
    /// What is said of a dish that stands after all: the key is the part.
    reopening = "reopen.txt";
    /// What a dish is topped up with: the key is the part.
    top_ups = "top_up.txt";
    /// What a meal left is told with: the key is the part.
    left_over = "left_over.txt";
    /// What meals are packed in, and what is said of it: the key is what one is called, or the part.
    boxes = "boxes.txt";
    /// What only the plates can tell: the key is the part.
    of_plates = "of_plates.txt";
    /// Words after the last item that add nothing: "I think it said".
    outros = "outros.txt";
    /// Verbs: the key is the command.
    verbs = "verbs.txt";
    /// Words that forbid booking: the key is the reason.
    vetoes = "vetoes.txt";
    /// Nutrients on a packet or in a question.
    label_fields = "label.txt";
    /// The same by a letter: "11 p".
    label_short = "label_short.txt";
    /// "monday", "october", "today".
    calendar = "calendar.txt";
    /// What is said around a reading of the scale: the key is the mode that it tells.
    at_scale = "at_scale.txt";
    /// What may follow "for" and is nobody.
    not_people = "not_people.txt";
    /// "lunch", "dinner".
    meals = "meals.txt";
    /// Understood, not there yet: the key is the capability.
    /// What it is asked for with, in a sentence: the key is the part.
    capabilities = "capabilities.txt";
    /// "old", "newest", "first": words that choose among batches of one name.
    selectors = "selectors.txt";
    /// "the one from Sunday": what tells beside a dish which of its batches is meant; the key is the part.
    choosers = "choosers.txt";
    /// Parts that are taken of a whole: "juice", "zest".
    extracts = "extracts.txt";
    /// What a pasted recipe says beside its ingredients: "serves", "method", "minutes".
    recipe = "recipe.txt";
    /// Headings of a batch's parts.
    parts = "parts.txt";
    /// "no wait": what takes back the number before it.
    repairs = "repairs.txt";
    /// What corrections are made of: the key is the part.
    corrections = "corrections.txt";
    /// Answers to "one plate or two?": the key is which.
    one_or_two = "one_or_two.txt";
    /// What a plate eaten again is told with: the key is the part.
    repeats = "repeats.txt";
    /// How an amount is shared among people: "each", "the rest", "the three of us".
    at_table = "at_table.txt";
    /// What is told of things that are bought, of pots and of stoves: the key is the part.
    prep = "prep.txt";
    /// What is said of dishes that were cooked before: the key is the part.
    cookbook = "cookbook.txt";
    /// "3 times", "each time": the same weight several times.
    so_many_times = "so_many_times.txt";
    /// What stands for what the books hold in hand: the key is what.
    in_hand = "in_hand.txt";
    /// "brief", "us cups": the key is the setting.
    settings = "settings.txt";
    /// Whole messages: "undo", "yes", "what's left".
    whole = "whole.txt";
    /// "2day", "teh": the key is the word that is meant.
    short_forms = "short_forms.txt";
    /// What joins two things on a plate: "and", "with".
    joiners = "joiners.txt";
    /// What lays one thing on another, before its number: "on top of 200 chilli".
    laid_on = "laid_on.txt";
    /// "together with", "gone into me": what is said in other words; the key is what is meant.
    otherwise = "otherwise.txt";
    /// "less", "left": what takes an amount off the one before it.
    taken_off = "taken_off.txt";
    /// "minus", "plus": words that reckon between two numbers, by their sign.
    operators = "operators.txt";
    restated = "restated.txt";
    elsewhere = "elsewhere.txt";
    /// "drained weight", "peeled": what a second weight of an ingredient is of.
    own_weight = "own_weight.txt";
    /// The label of a bowl: the key is the part.
    bowls = "bowls.txt";
    /// What stands around a short answer: the key is the part.
    answers = "answers.txt";
    /// Words between clauses: "but", "lol".
    joints = "joints.txt";
    /// Words that lead up to an item: "popped", "my plate came to".
    leads = "leads.txt";
    /// What talk behind an item begins with: "on the sofa".
    tails = "tails.txt";
    /// Things that are counted and not eaten: "40 minutes".
    counted_things = "counted_things.txt";
    /// What stands before an hour: "at 7", "half past 6".
    times = "times.txt";
    /// "no rice", "forgot to weigh the rice": told of food that is not on the plate.
    denials = "denials.txt";
    /// Nutrients that no packet of ours keeps, and that the table has: the key is the nutrient.
    nutrients = "nutrients.txt";
    /// "fat", "brine": what is poured off a dish.
    poured = "poured.txt";
    /// "remaining", "all gone": what is left of a dish.
    left = "left.txt";
    /// "gone off", "not eaten": said of food that is on no plate.
    uneaten = "uneaten.txt";
    /// Endings of files, first words of commands: the key is which.
    machine = "machine.txt";
    /// "that soup is amazing": told of food, and not how much.
    opinions = "opinions.txt";
    /// "each", "half": what a share is told with.
    sharing = "sharing.txt";
    /// Words that govern a message from any clause of it: "if", "recipe".
    governors = "governors.txt";
    /// What a question is made of: the key is the part.
    questions = "questions.txt";
    /// What words tell of a sentence that no grammar covers: the key is the hint.
    cues = "cues.txt";
    /// Words that explain the number beside them: minutes, euros, kilometres.
    asides = "asides.txt";
    /// What people put right of what was booked is told with; the key is the part.
    remarks = "remarks.txt";
    /// Words that name something and no food: "130 soap".
    ordinary = "ordinary.txt";
    /// Words of everyday talk that are no food's name, to tell chatter from a name not known yet.
    talk = "talk.txt";
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lang::lexer::lex;

    #[test]
    fn the_longest_phrase_wins() {
        let (length, key) = units().longest(&lex("fl oz of milk")).expect("a unit");
        assert_eq!((length, key), (2, "volume fluid_ounce"));
        let (length, key) = units().longest(&lex("kg of rice")).expect("a unit");
        assert_eq!((length, key), (1, "mass 1000"));
    }

    #[test]
    fn every_list_is_folded_as_the_lexer_folds() {
        for list in [
            units(),
            measures(),
            fillers(),
            verbs(),
            vetoes(),
            whole(),
            label_fields(),
            at_scale(),
            losses(),
            fates(),
            counts(),
            moves(),
            kept_back(),
            slips(),
            takings(),
            tares(),
            claims(),
            reopening(),
            recounts(),
            reports(),
            dates_asked(),
            top_ups(),
            left_over(),
            boxes(),
            by_piece(),
            clock(),
            kitchen_acts(),
            personal(),
            people(),
            avoid(),
            allergen_words(),
            finder(),
        ] {
            for words in list.all() {
                let text = words.join(" ");
                let lexed: Vec<_> = lex(&text)
                    .iter()
                    .map(|token| token.norm().to_owned())
                    .collect();
                assert_eq!(lexed, words, "{text}");
            }
        }
    }
}
