//! Sentences that no grammar covers: what is taken from them, and what is left alone.

mod spoken;

use hobside::lang::{Sense, Vocabulary, parse};
use spoken::without_reasons;

fn household() -> Vocabulary {
    Vocabulary::new()
        .with(Sense::Batch, "lentil dal")
        .with(Sense::Batch, "brown rice")
        .with(Sense::Batch, "leek soup")
        .with(Sense::Packet, "miso paste")
        .with(Sense::Person, "Ana")
        .with(Sense::Person, "Tom")
}

/// What a sentence says, as the bot would say it.
#[track_caller]
fn says(text: &str, expected: &[&str]) {
    let parsed = parse(text, &household());
    let best = parsed.best();
    let commands = without_reasons(&best.commands);
    let commands: Vec<String> = commands.iter().map(ToString::to_string).collect();
    assert!(best.sure, "{text:?} is not sure: {:?}", best.reasons);
    assert_eq!(commands, expected, "{text:?}");
}

#[track_caller]
fn says_nothing(texts: &[&str]) {
    for text in texts {
        let parsed = parse(text, &household());
        let best = parsed.best();
        assert!(!best.sure, "{text:?} is taken for {:?}", best.commands);
    }
}

#[test]
fn talk_around_a_weighing_is_passed_over() {
    says(
        "the tram was 25 minutes late again but finally had my 130 soup",
        &["130 soup"],
    );
    says("right thats 310 rice for me im starving", &["310 rice"]);
    says(
        "I have taken ninety grams of the dal, with forty grams of cheddar on top.",
        &["90 g dal, 40 g cheddar"],
    );
    says("put me down for 145 of the dal would you", &["145 dal"]);
}

#[test]
fn whoever_is_named_ate_it() {
    says("ana just nicked 75 rice", &["75 rice for ana"]);
    says(
        "toms plate came to 240 dal in the end",
        &["240 dal for tom"],
    );
    says(
        "a pound of the dal went to Tom, believe it or not",
        &["453.59237 g dal for Tom"],
    );
}

#[test]
fn a_batch_is_told_by_what_was_done_and_what_it_weighs() {
    says(
        "made pea soup this arvo, came out at 2100 g without the pot",
        &["batch pea soup\ncooked 2100 g"],
    );
    says("hummus made!! 540 g", &["batch hummus\ncooked 540 g"]);
    says_nothing(&[
        "made pea soup, 2100 in the pot",
        "made pea soup for 12 people, took 2 hours",
        "shall we make pea soup, 2100 g?",
    ]);
}

#[test]
fn a_number_that_nothing_explains_keeps_the_whole_from_being_read() {
    says_nothing(&[
        "had 130 soup and then 44 whatever it was",
        "so i had dal and 90 and then rice",
    ]);
}

#[test]
fn what_was_not_eaten_is_left_alone() {
    says_nothing(&[
        "if you had 130 soup we could talk",
        "remember when we had 400 dal each",
        "the recipe wants 130 dal and 90 rice",
        "didnt have the 130 soup after all",
        "need 500 rice for the party",
        "rice was 2.50 at the market, soup 3.10",
        "put the soup on at 180 for 20 minutes",
        "last time I had 300 dal i regretted it",
    ]);
}

#[test]
fn a_list_is_read_whole_or_not_at_all() {
    says_nothing(&[
        "olive oil, 140 dal and that was it",
        "had 140 dal and rice",
        "a pinch of dal, 2.75 x red lentils for breakfast",
    ]);
}

#[test]
fn a_part_of_a_dish_is_not_lost_from_a_list() {
    says(
        "1% of the dal, 2.75 x red lentils for breakfast",
        &["1% of the dal, 2.75 x red lentils for breakfast"],
    );
}

#[test]
fn a_question_is_answered_in_any_words() {
    says("do we still have soup", &["how much soup"]);
    says("hm how much rice we got", &["how much rice"]);
    says("how much is left of the dal", &["how much dal"]);
    says("dal??? how much", &["how much dal"]);
    says("got any soup left", &["how much soup"]);
    says("hows the rice situation", &["how much rice"]);
    says("is there enough rice for 3 x 180?", &["how much rice"]);
    says(
        "dal, how much, and the rice too, before i start cooking",
        &["how much dal", "how much rice"],
    );
    says(
        "if I dish up 3 plates of 250 soup what would still be in the pot",
        &["how much soup"],
    );
    says("what've i eaten so far", &["what did I have today"]);
    says(
        "remind me how much dal I've had today?",
        &["what did I have today"],
    );
    says(
        "rice: did I have 160 or 190 of it? can't remember",
        &["what did I have today"],
    );
    says("protein so far?", &["what did I have today"]);
    says(
        "cup of yogurt is how many g",
        &["how many grams is 1 cup yogurt"],
    );
    says("whats goin off soon", &["what is due"]);
    says(
        "the dal that's left, how many ladles would that be",
        &["how many portions of dal"],
    );
    says_nothing(&[
        "how much was the rice at the shop",
        "how much longer til dinner is ready",
        "do you want soup or rice",
        "what should i make with the rice",
        "Tom is there rice?",
        "is there rice in that salad",
        "is there enough salt in the dal",
        "enough about the rice already",
        "how many people had the soup",
        "how much for the rice",
        "how much rice, 5 or 10 kg?",
        "no idea how much soup there is",
        "hows the soup?",
        "any soup for me?",
        "did tom eat the rice?",
        "did i have my phone at dinner?",
        "what do i have tomorrow",
        "what did i have to do today",
        "what expires first, my licence or the car tax?",
        "whats left to do",
    ]);
}

#[test]
fn what_is_not_there_yet_is_understood_in_any_words() {
    says(
        "stuck half the rice in the freezer before it turns",
        &["move 50% of the rice to the freezer"],
    );
    says("thaw 400 soup pls", &["thaw 400 soup"]);
    says(
        "got 500 soup out the freezer to defrost",
        &["thaw 500 soup from the freezer"],
    );
    says(
        "ping me tmrw at 9am, the soup needs using",
        &["remind me tomorrow at 09:00am: soup needs using"],
    );
    says("can u set my target to 2100 kcal", &["target 2100 kcal"]);
    says("no more than 180 rice a day for me", &["limits on a dish"]);
    says("had 300 soup from the freezer", &["300 freezer soup"]);
    says_nothing(&[
        "we froze 3 kg of rice last summer",
        "did you freeze the rest of the soup?",
        "should we freeze half the dal",
        "need to freeze 500 of the dal",
        "the freezer is at -18 and full of soup",
        "give me a shout when the rice is done",
        "ping me when the soup needs using",
        "remind me to buy 2 kg of rice",
        "doc says no more than 6 g salt a day",
        "my target is 10k steps",
        "my max is 140 bpm",
    ]);
}

#[test]
fn what_was_lost_is_no_plate() {
    says("dog got into the rice 250 gone", &["binned 250 rice"]);
    says(
        "dal smelled off so 400 of it went down the disposal",
        &["binned 400 dal"],
    );
    says("the dal went off, chucked it all", &["binned all the dal"]);
    says(
        "had 180 dal, couldnt finish, scraped 40 of it in the bin",
        &["140 g dal", "binned 40 dal"],
    );
    says(
        "rice: 100 eaten 50 binned (black bits)",
        &["100 rice", "binned 50 rice"],
    );
    says_nothing(&[
        "dropped 250 leaflets through doors, rice for tea as a reward",
        "spilled 100 ml of tea on the rice packet",
        "if the dog gets at the dal again, 200 of it is gone",
        "lost 4 kg since may, all that soup",
        "should we bin the 200 rice?",
    ]);
}

#[test]
fn what_is_left_is_no_plate() {
    says("checked the rice again: 1355", &["recount: rice 1355 g"]);
    says(
        "according to your list 650 rice, according to my eyes and the scale 615",
        &["recount: rice 615 g anyway"],
    );
    says(
        "dal: had 140 then weighed whats left, 1690",
        &["140 dal", "recount: dal 1690 g"],
    );
    says_nothing(&[
        "weighed myself again, 64.2, no dal for a week",
        "her cat weighs 5.2 kg now, fed on leftover rice",
        "checked the rice price again: 1355 a tonne",
        "Ana reckons there's 400 rice left, I say 300",
    ]);
}

#[test]
fn what_left_a_jar_was_eaten() {
    says(
        "olive oil bottle 702 → 655, most of it on the salad",
        &["47 g olive oil"],
    );
    says(
        "yogurt tub 512 full, 430 after me, 318 after tom",
        &["82 g yogurt", "112 g yogurt for tom"],
    );
    says(
        "butter 248 at breakfast 239 now, 5 of that was ana",
        &["4 g butter", "5 g butter for ana"],
    );
    says("655 now, 690 before, dal", &["35 g dal"]);
    says_nothing(&[
        "honey & lid 431, no lid 418, after 403",
        "was 82 kg now 78, the soup diet works",
        "petrol 46 before, 61 now, ridiculous",
        "rice was 90 cents before, now 140",
    ]);
}

#[test]
fn a_plate_fills_on_the_scale() {
    says(
        "scale says 75 spinach.. 105 w the cheddar",
        &["75 g spinach, 30 g cheddar"],
    );
    says(
        "running total on mine 455 w rice, 630 once the dal was on, plate by itself is 290",
        &["165 g rice, 175 g dal"],
    );
    says(
        "bowl zeroed 130 rice, took some back out 115, then soup up to 300",
        &["115 g rice, 185 g soup"],
    );
    says(
        "had 75 spinach, 105 rice with the dal 30",
        &["75 spinach, 105 rice, 30 dal"],
    );
}

#[test]
fn what_is_meant_by_other_words_is_the_same() {
    says(
        "3 ladles dal for me and 1 for Tom",
        &["3 ladle dal", "1 ladle dal for Tom"],
    );
    says(
        "480 dal between ana and me 75:25 in her favour",
        &["480 dal, 75% for ana, 25% for me"],
    );
    says(
        "split 500 rice with tom 60/40, bigger bit mine",
        &["500 rice, 60% for me, 40% for tom"],
    );
    says("half a kilo plus fifty grams of soup", &["550 g soup"]);
    says("0.35 kg rice 4 me", &["350 g rice"]);
    says("150 or so rice", &["150 rice"]);
    says(
        "für mich 145 g dal und für Tom 160 g",
        &["145 g dal", "160 g dal for Tom"],
    );
    says(
        "1200 soup, we three ate it",
        &["1200 soup split between 3 of us"],
    );
    says(
        "840 soup into three bowls, one each",
        &["840 soup split between 3 of us"],
    );
    says("soup twice, 180 n then 145", &["180 soup, 145 soup"]);
    says("140 soup no that was the dal", &["140 dal"]);
}

#[test]
fn what_nobody_here_ate_is_no_plate() {
    says_nothing(&[
        "90 rice but thats the dry weight, dunno what it came to cooked",
        "uncle Jo ate 7 dumplings and then a whole cheesecake",
        "500 strong flour 7 yeast 10 salt 320 water, thats it",
        "rice street 45, 2nd floor",
        "we're out of rice, 2 kg please",
        "my brother had 2 portions of soup at the station and missed the train",
        "when i was a student i lived on 80 g of rice and a spoon of soup",
        "it's 5 past 8, where are you all",
        "my cousin eats 200 g of rice before every race",
        "ok so 2 cups rice to 3 and a half cups water right",
        "250 soup at Maria's last night, hers is hotter than ours",
        "put the timer on 45 and then go upstairs",
        "set a timer for 35 min someone my hands are covered",
        "put 20 of my soup back so the pot's 600",
    ]);
}
