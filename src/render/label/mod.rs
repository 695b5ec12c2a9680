//! Labels for bags and boxes: what stands on one in words, and the pictures of them.
//!
//! The words are settled when the label is asked for, and kept with the answer; the picture is drawn from them
//! when it is sent, off the path of other messages. `layout` makes the words fit the paper, `sheet` puts several
//! labels on a page.

mod layout;
mod sheet;
#[cfg(test)]
mod tests;

use serde::{Deserialize, Serialize};

use crate::domain::answer::{LabelAnswer, LabelView};
use crate::domain::label::LabelProblem;
use crate::domain::origin::Origin;
use crate::foods::Nutrient;
use crate::lang::syntax::LabelSize;

use super::allergen::{contained, not_known};
use super::avoid::on_label;
use super::clean::{capital, clean, name};
use super::date::date;
use super::number::{about_grams, energy, nutrient};
use super::page::joined;
use super::picture::{Canvas, Face, Paper, millimetres};
use super::problem::Wording;

/// More labels than this come on a page.
const APART_MAX: usize = 6;

/// What stands on one label.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Label {
    pub name: String,
    pub use_by: Option<String>,
    /// When it was made, or frozen.
    pub date: String,
    /// The same with the other, if it was frozen after it was made.
    pub with_made: Option<String>,
    pub net: String,
    pub energy: String,
    pub allergens: String,
    /// For whom it is not, and why.
    #[serde(default)]
    pub avoided: Option<String>,
    /// What may carry more.
    pub not_known: Option<String>,
    /// What is typed in the chat to see the batch.
    pub code: String,
}

/// A picture of labels: one of the size of its paper, or several on a page.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Labels {
    pub paper: Paper,
    pub page: Option<Paper>,
    pub labels: Vec<Label>,
    /// Whose they are: who scans one may sit at several tables.
    #[serde(default)]
    pub household: Option<i64>,
}

impl Labels {
    /// Draw it. `link` gives what the code of a batch opens in the chat that it is sent to, of which household.
    pub fn draw(&self, link: impl Fn(&str, Option<i64>) -> String) -> Canvas {
        let opens = |label: &Label| link(&label.code, self.household);
        let draw = |label: &Label| layout::draw(label, self.paper, &opens(label));
        match (self.page, self.labels.as_slice()) {
            (Some(page), labels) => sheet::draw(page, self.paper, labels.iter().map(draw)),
            (None, [label]) => draw(label),
            // Nothing makes such a picture; a page as high as its labels shows all of them.
            (None, labels) => {
                let height = self.paper.height * u32::try_from(labels.len()).unwrap_or(1).max(1);
                let page = Paper {
                    height,
                    ..self.paper
                };
                sheet::draw(page, self.paper, labels.iter().map(draw))
            }
        }
    }

    /// A name for its file: "label-D1.png".
    pub fn file_name(&self) -> String {
        match self.labels.as_slice() {
            [label] => format!("label-{}.png", label.code),
            _ => "labels.png".to_owned(),
        }
    }
}

/// The pictures that answer, in order, each with the labels that it shows.
pub fn pictures(answer: &LabelAnswer) -> Vec<(Labels, Vec<&LabelView>)> {
    let paper = paper(&answer.size);
    let views = answer.labels.iter();
    let views: Vec<&LabelView> = views
        .flat_map(|view| std::iter::repeat_n(view, answer.copies))
        .collect();
    let page = answer.page.map(sheet::of_page);
    let page = page.or_else(|| (views.len() > APART_MAX).then(|| sheet::of_region(answer.region)));
    let a_picture = page.map_or(1, |page| sheet::per_page(page, paper).max(1));
    let chunks = views.chunks(a_picture);
    chunks
        .map(|views| {
            let labels = views.iter().map(|view| label(view)).collect();
            let picture = Labels {
                paper,
                page,
                labels,
                household: None,
            };
            (picture, views.to_vec())
        })
        .collect()
}

/// What is said beside a picture.
pub fn caption(picture: &Labels) -> String {
    let size = |paper: Paper| {
        format!(
            "{:.0} x {:.0} mm",
            millimetres(paper.width),
            millimetres(paper.height)
        )
    };
    let what = match picture.labels.as_slice() {
        [label] => format!(
            "{} {}, {}",
            label.name,
            label.code,
            label.net.replace('\u{a0}', " ")
        ),
        labels => format!("{} labels", labels.len()),
    };
    let paper = match picture.page {
        Some(page) => format!("{} on a page of {}", size(picture.paper), size(page)),
        None => size(picture.paper),
    };
    let lacking = |label: &Label| Face::Bold.lacks_letters(&label.name);
    let lacks = match picture.labels.iter().any(lacking) {
        true => "\nLetters that its type lacks are left out; the code stands on it.",
        false => "",
    };
    format!("{what}\n{paper}, print at full size{lacks}")
}

/// Where a picture was written to, on a channel that shows none.
pub fn saved(path: &str) -> String {
    format!("Saved as {}", clean(path))
}

pub fn not_saved(why: &str) -> String {
    format!("The picture could not be saved: {}", clean(why))
}

fn paper(size: &LabelSize) -> Paper {
    match *size {
        LabelSize::Millimetres { width, height } => Paper::of_mm(width, height),
        LabelSize::Dots { width, height } => Paper { width, height },
    }
}

/// How it came into the books: nobody knows when that was made which nobody cooked here.
fn came(origin: Origin) -> &'static str {
    match origin {
        Origin::Cooked | Origin::Leftover | Origin::Boxed | Origin::ToppedUp => "made",
        Origin::Bought => "bought",
        Origin::Before => "here since",
    }
}

/// What must not be parted at the end of a line is one word.
fn label(view: &LabelView) -> Label {
    let on = |day| joined(&date(day));
    let came = joined(&format!("{} {}", came(view.origin), date(view.made_on)));
    let frozen = view.frozen_on.map(|day| format!("Frozen {}", on(day)));
    let later = view.frozen_on.is_some_and(|day| day != view.made_on);
    let sum = |nutrient| view.per_100g.get(nutrient);
    let protein = sum(Nutrient::Protein);
    Label {
        name: name(&view.name),
        use_by: view.due.map(|due| format!("Use by {}", on(due.on))),
        with_made: frozen
            .as_ref()
            .filter(|_| later)
            .map(|frozen| format!("{frozen}, {came}")),
        date: frozen.unwrap_or_else(|| capital(&came)),
        net: match view.mass {
            Some(mass) => joined(&about_grams(mass, view.about)),
            None => "not weighed".to_owned(),
        },
        energy: format!(
            "{}, {} {}",
            joined(&energy(sum(Nutrient::EnergyKcal), view.estimated)),
            joined(&nutrient(
                Nutrient::Protein,
                "protein",
                protein,
                view.estimated
            )),
            joined("per 100 g"),
        ),
        allergens: match view.allergens.contains.is_empty() {
            true => "Allergens: none recorded".to_owned(),
            false => format!("Contains {}", contained(&view.allergens)),
        },
        avoided: on_label(&view.avoided),
        not_known: not_known(&view.allergens).map(|names| format!("Not known in full: {names}")),
        code: clean(&view.code),
    }
}

/// Why there is no label.
pub fn problem(problem: &LabelProblem) -> Wording {
    match problem {
        LabelProblem::Nothing { what, place } => {
            let what = what
                .as_deref()
                .map_or("Nothing".to_owned(), |what| format!("No {}", name(what)));
            let place = place
                .as_deref()
                .map_or("here".to_owned(), |place| format!("in the {}", name(place)));
            Wording::new(format!(
                "{what} stands {place}, so there is no label to make."
            ))
        }
        LabelProblem::Size => Wording::new("A label is 24 to 300 mm wide and 12 to 300 mm high.")
            .example("label dal 62 x 40 mm"),
        LabelProblem::LargerThanPage => Wording::new("No label of that size fits on the page.")
            .example("labels for dal 62 x 40 mm on A4"),
    }
}
