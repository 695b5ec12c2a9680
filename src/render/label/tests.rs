//! Labels are read back from their PNG, as a scanner and an eye would.

use std::io::Cursor;

use super::*;
use crate::domain::mass::Mass;
use crate::domain::origin::Origin;
use crate::lang::syntax::Page;
use crate::render::sample;

const LINK: &str = "https://t.me/our_kitchen_bot?start=";

/// The pixels of a PNG: black is 0.
struct Printed {
    width: usize,
    height: usize,
    grey: Vec<u8>,
}

fn printed(picture: &Labels) -> Printed {
    let canvas = picture.draw(|code, _| format!("{LINK}{code}"));
    let png = canvas.png().expect("it encodes");
    let mut decoder = png::Decoder::new(Cursor::new(png));
    decoder.set_transformations(png::Transformations::EXPAND);
    let mut reader = decoder.read_info().expect("a PNG");
    let mut grey = vec![0; reader.output_buffer_size().expect("it fits")];
    let frame = reader.next_frame(&mut grey).expect("a whole picture");
    Printed {
        width: frame.width as usize,
        height: frame.height as usize,
        grey,
    }
}

impl Printed {
    /// What an independent decoder reads from the codes on it.
    fn scanned(&self) -> Vec<String> {
        let mut image =
            rqrr::PreparedImage::prepare_from_greyscale(self.width, self.height, |x, y| {
                self.grey[y * self.width + x]
            });
        let grids = image.detect_grids();
        grids
            .iter()
            .map(|grid| grid.decode().expect("it reads").1)
            .collect()
    }

    /// As scissors cut it out.
    fn cut(&self, x: usize, y: usize, width: usize, height: usize) -> Printed {
        let rows = self.grey.chunks(self.width).skip(y).take(height);
        Printed {
            width,
            height,
            grey: rows.flat_map(|row| row[x..x + width].to_vec()).collect(),
        }
    }

    fn is_black(&self, x: usize, y: usize) -> bool {
        self.grey[y * self.width + x] == 0
    }

    /// Nothing is printed so near the edge.
    fn has_white_edge(&self, dots: usize) -> bool {
        let near = |at: usize, whole: usize| at < dots || at + dots >= whole;
        let all = (0..self.height).flat_map(|y| (0..self.width).map(move |x| (x, y)));
        all.filter(|(x, y)| near(*x, self.width) || near(*y, self.height))
            .all(|(x, y)| !self.is_black(x, y))
    }
}

fn a_label(name: &str) -> LabelView {
    let view = sample::dal();
    LabelView {
        code: "D17".into(),
        name: name.into(),
        place: Some("freezer".into()),
        origin: Origin::Cooked,
        made_on: sample::today(),
        frozen_on: Some(sample::today() + chrono::TimeDelta::days(2)),
        due: None,
        mass: Some(Mass::from_mg(1_700_000)),
        about: false,
        estimated: false,
        per_100g: view.per_100g,
        allergens: view.allergens,
        avoided: Vec::new(),
    }
}

fn answer(labels: Vec<LabelView>, width: f64, height: f64) -> LabelAnswer {
    LabelAnswer {
        labels,
        size: LabelSize::Millimetres { width, height },
        page: None,
        copies: 1,
        region: crate::domain::keeping::Region::UnitedKingdom,
    }
}

const LONG: &str = "slow braised beef and barley stew with pickled walnuts and a very long name";

#[test]
fn a_code_is_read_back_from_every_size_with_room_for_one() {
    for (width, height) in [
        (62.0, 40.0),
        (62.0, 29.0),
        (40.0, 60.0),
        (89.0, 36.0),
        (100.0, 150.0),
    ] {
        for name in ["dal", LONG] {
            let answer = answer(vec![a_label(name)], width, height);
            let (picture, _) = pictures(&answer).remove(0);
            let printed = printed(&picture);
            assert_eq!(
                printed.scanned(),
                [format!("{LINK}D17")],
                "{name} {width} x {height}"
            );
            assert!(printed.has_white_edge(12), "{name} {width} x {height}");
        }
    }
}

#[test]
fn small_paper_keeps_its_words_on_it() {
    for (width, height) in [(24.0, 12.0), (30.0, 15.0), (300.0, 12.0), (24.0, 300.0)] {
        for name in ["dal", LONG, "🍲", "x"] {
            let answer = answer(vec![a_label(name)], width, height);
            let (picture, _) = pictures(&answer).remove(0);
            let printed = printed(&picture);
            let black = printed.grey.iter().filter(|grey| **grey == 0).count();
            assert!(black > 200, "{name} {width} x {height}: nothing is written");
            assert!(printed.has_white_edge(4), "{name} {width} x {height}");
        }
    }
}

#[test]
fn a_size_in_dots_is_kept_to_the_dot() {
    let mut answer = answer(vec![a_label("dal")], 1.0, 1.0);
    answer.size = LabelSize::Dots {
        width: 609,
        height: 401,
    };
    let (picture, _) = pictures(&answer).remove(0);
    let printed = printed(&picture);
    assert_eq!((printed.width, printed.height), (609, 401));
}

#[test]
fn several_labels_stand_on_a_page_and_every_code_is_read() {
    let mut answer = answer(vec![a_label("dal"); 24], 62.0, 40.0);
    answer.page = Some(Page::A4);
    let pages: Vec<Labels> = pictures(&answer)
        .into_iter()
        .map(|(picture, _)| picture)
        .collect();
    let counts: Vec<usize> = pages.iter().map(|page| page.labels.len()).collect();
    assert_eq!(counts, [21, 3]);
    let printed = printed(&pages[0]);
    assert_eq!((printed.width, printed.height), (2480, 3508));
    let (wide, high) = (
        pages[0].paper.width as usize,
        pages[0].paper.height as usize,
    );
    let (left, top) = ((2480 - 3 * wide) / 2, (3508 - 7 * high) / 2);
    for place in 0..21 {
        let cut = printed.cut(left + place % 3 * wide, top + place / 3 * high, wide, high);
        assert_eq!(cut.scanned(), [format!("{LINK}D17")], "{place}");
    }
}

#[test]
fn many_labels_come_on_a_page_of_their_own_accord() {
    let few = pictures(&answer(vec![a_label("dal"); APART_MAX], 62.0, 40.0)).len();
    assert_eq!(few, APART_MAX);
    let many = answer(vec![a_label("dal"); APART_MAX + 1], 62.0, 40.0);
    let pages = pictures(&many);
    assert_eq!(pages.len(), 1);
    assert_eq!(pages[0].0.page, Some(sheet::of_page(Page::A4)));
    let mut copies = answer(vec![a_label("dal")], 62.0, 40.0);
    copies.copies = 3;
    assert_eq!(pictures(&copies).len(), 3);
}

#[test]
fn nothing_recorded_is_never_free_of_it() {
    let mut view = a_label("dal");
    view.allergens = Default::default();
    assert_eq!(label(&view).allergens, "Allergens: none recorded");
    view.allergens.unknown = vec!["stock cube".into()];
    let words = label(&view);
    assert_eq!(
        words.not_known.as_deref(),
        Some("Not known in full: stock cube")
    );
    let text = format!("{words:?}").to_lowercase();
    assert!(
        !text.contains("free") && !text.contains("no allergens"),
        "{text}"
    );
}

#[test]
fn what_nobody_cooked_here_is_not_said_to_be_made_or_frozen() {
    for (origin, date) in [
        (Origin::Cooked, "Made 14 Oct 2026"),
        (Origin::Bought, "Bought 14 Oct 2026"),
        (Origin::Before, "Here since 14 Oct 2026"),
    ] {
        let mut view = a_label("peas");
        (view.origin, view.frozen_on) = (origin, None);
        assert_eq!(label(&view).date.replace('\u{a0}', " "), date);
    }
}

#[test]
fn a_label_is_kept_whole_until_it_is_sent() {
    let (picture, _) = pictures(&answer(vec![a_label(LONG)], 62.0, 40.0)).remove(0);
    let kept = serde_json::to_string(&picture).expect("it is text");
    assert_eq!(
        serde_json::from_str::<Labels>(&kept).expect("it reads"),
        picture
    );
}

#[test]
fn letters_that_the_type_lacks_are_owned_up_to() {
    let told = |name: &str| {
        let answer = answer(vec![a_label(name)], 62.0, 40.0);
        let (picture, _) = pictures(&answer).remove(0);
        caption(&picture).contains("left out")
    };
    assert!(told("炒饭 fried rice"));
    assert!(!told("crème brûlée ♥"));
    assert!(!told("борщ"));
}
