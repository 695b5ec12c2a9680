//! Random play with who is at the table, in memory: whatever people say, nobody there is called as another is, somebody who
//! chats keeps the household, only the keeper renames, removes and hands on, and an undo brings back what was.

mod chance;
mod home;

use chance::Chance;
use hobside::domain::decide::Outcome;
use hobside::domain::ids::MemberId;
use hobside::domain::kitchen::Member;
use hobside::domain::table::Seat;
use home::{ANA, Home, ROBIN};

const TOM: MemberId = MemberId(3);
const CHATTERS: [MemberId; 3] = [ROBIN, ANA, TOM];

const NAMES: [&str; 7] = ["Robin", "Ana", "Tom", "Mia", "Zoe", "Annie", "Rob"];

const SAID: [&str; 14] = [
    "call me <>",
    "call <> <>",
    "also call me <>",
    "<> is also <>",
    "add guest <>",
    "<> is our son, he doesn't chat",
    "remove <> from the household",
    "I'm leaving the household",
    "I'm back at the table",
    "make <> the keeper",
    "140 dal for guest <>",
    "140 dal for <>",
    "140 dal",
    "undo",
];

struct Play {
    home: Home,
    chance: Chance,
}

impl Play {
    fn new(seed: u64) -> Self {
        let mut home = Home::new();
        let told = home.kitchen.personal.clone();
        home.kitchen.table.add(Member::new(TOM, "Tom", true), &told);
        home.kitchen.next.member = 4;
        let opened = home.say(ROBIN, "batch lentil dal\n50 kg red lentils\ncooked 90000");
        assert_eq!(opened.outcome, Outcome::Recorded);
        let chance = Chance(seed);
        Self { home, chance }
    }

    fn words(&mut self) -> String {
        let mut text = self.chance.one(&SAID).to_owned();
        while text.contains("<>") {
            let name = self.chance.one(&NAMES);
            text = text.replacen("<>", name, 1);
        }
        text
    }

    fn seated(&self) -> Vec<Member> {
        self.home.kitchen.members().to_vec()
    }

    fn keeper(&self) -> Option<MemberId> {
        self.home.kitchen.table.keeper().map(|keeper| keeper.id)
    }
}

/// Names, who chats, who keeps it; not the days on which they ate.
fn as_told(members: &[Member]) -> Vec<(MemberId, String, Vec<String>, bool)> {
    let told = members.iter();
    told.map(|it| (it.id, it.name.clone(), it.nicknames.clone(), it.keeper))
        .collect()
}

#[test]
fn whatever_is_said_the_table_stays_in_order() {
    for seed in 0..40 {
        let mut play = Play::new(seed);
        for _ in 0..25 {
            let who = play.chance.one(&CHATTERS);
            let text = play.words();
            let (before, keeper) = (play.seated(), play.keeper());
            let decision = play.home.say(who, &text);
            let after = play.seated();
            let told = format!("seed {seed}: {who:?} says {text}: {:?}", decision.answers);

            let mut names: Vec<String> = after.iter().map(|it| it.name.to_lowercase()).collect();
            names.sort();
            names.dedup();
            assert_eq!(names.len(), after.len(), "two of one name, {told}");
            let keepers = after.iter().filter(|it| it.keeper).count();
            assert_eq!(keepers, 1, "one keeps it, {told}");
            assert!(after.iter().any(|it| it.chats && it.keeper), "{told}");

            let moved = after.iter().any(|it| it.keeper && Some(it.id) != keeper);
            let stays = after.iter().any(|it| Some(it.id) == keeper);
            let came_back = text.contains("back") || decision.outcome == Outcome::Recorded;
            assert!(
                !moved || !stays || Some(who) == keeper || came_back,
                "{told}"
            );
            for it in before.iter().filter(|it| it.chats && it.id != who) {
                let now = play
                    .home
                    .kitchen
                    .member(it.id)
                    .expect("nobody is forgotten");
                let renamed = now.called != it.called;
                let removed = now.seat != Seat::Here;
                if text != "undo" {
                    assert!(!renamed && !removed || Some(who) == keeper, "{told}");
                }
            }
        }
    }
}

#[test]
fn an_undo_brings_back_who_was_there() {
    let mut taken_back = 0;
    for seed in 1000..1150 {
        let mut play = Play::new(seed);
        for _ in 0..5 {
            let (who, text) = (play.chance.one(&CHATTERS), play.words());
            play.home.say(who, &text);
        }
        let (who, text) = (play.chance.one(&CHATTERS), play.words());
        let before = play.seated();
        let was_here = before.iter().any(|it| it.id == who);
        let decision = play.home.say(who, &text);
        if text == "undo" || decision.outcome != Outcome::Recorded || !was_here {
            continue;
        }
        let undone = play.home.say(who, "undo");
        // Whoever has just left speaks for the table no more; they come back by what they say.
        if undone.outcome == Outcome::Recorded && !text.contains("leaving") {
            assert_eq!(
                as_told(&play.seated()),
                as_told(&before),
                "seed {seed}: {who:?} says {text}"
            );
            taken_back += 1;
        }
    }
    assert!(taken_back > 25, "{taken_back} were taken back");
}

#[test]
fn a_plate_for_a_name_that_two_have_goes_on_nobodys_unasked() {
    let mut play = Play::new(7);
    let told = play.home.kitchen.personal.clone();
    let other = Member::new(MemberId(4), "Ana", true);
    play.home.kitchen.table.add(other, &told);
    play.home.kitchen.next.member = 5;
    let names: Vec<String> = play.seated().into_iter().map(|it| it.name).collect();
    assert_eq!(names, ["Robin", "First Ana", "Tom", "Second Ana"]);
    for text in [
        "140 dal for Ana",
        "Ana had 140 dal",
        "300 dal for Ana and me",
        "Ana's was 140 dal",
    ] {
        let decision = play.home.say(ROBIN, text);
        assert_ne!(decision.outcome, Outcome::Recorded, "{text}");
    }
    for text in ["140 dal for second Ana", "150 dal for first Ana"] {
        let decision = play.home.say(ROBIN, text);
        assert_eq!(
            decision.outcome,
            Outcome::Recorded,
            "{text}: {:?}",
            decision.answers
        );
    }
}
