//! The table itself: foods in order of their codes, with nutrients and household measures.

use super::code::Code;
use super::names::Names;
use super::nutrient::Profile;
use super::packed;

/// The release's food groups (FD_GROUP), in its order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Group {
    DairyAndEggs,
    SpicesAndHerbs,
    BabyFoods,
    FatsAndOils,
    Poultry,
    SoupsAndSauces,
    Sausages,
    BreakfastCereals,
    Fruits,
    Pork,
    Vegetables,
    NutsAndSeeds,
    Beef,
    Beverages,
    FishAndShellfish,
    Legumes,
    LambVealAndGame,
    Baked,
    Sweets,
    GrainsAndPasta,
    FastFoods,
    Meals,
    Snacks,
    NativeFoods,
    RestaurantFoods,
}

impl Group {
    /// Every group with the release's own code for it (`FdGrp_Cd`).
    pub const ALL: [(Group, u16); 25] = [
        (Group::DairyAndEggs, 100),
        (Group::SpicesAndHerbs, 200),
        (Group::BabyFoods, 300),
        (Group::FatsAndOils, 400),
        (Group::Poultry, 500),
        (Group::SoupsAndSauces, 600),
        (Group::Sausages, 700),
        (Group::BreakfastCereals, 800),
        (Group::Fruits, 900),
        (Group::Pork, 1000),
        (Group::Vegetables, 1100),
        (Group::NutsAndSeeds, 1200),
        (Group::Beef, 1300),
        (Group::Beverages, 1400),
        (Group::FishAndShellfish, 1500),
        (Group::Legumes, 1600),
        (Group::LambVealAndGame, 1700),
        (Group::Baked, 1800),
        (Group::Sweets, 1900),
        (Group::GrainsAndPasta, 2000),
        (Group::FastFoods, 2100),
        (Group::Meals, 2200),
        (Group::Snacks, 2500),
        (Group::NativeFoods, 3500),
        (Group::RestaurantFoods, 3600),
    ];

    /// The group of the release's code.
    pub fn from_release(code: u16) -> Option<Group> {
        Group::ALL
            .into_iter()
            .find(|&(_, own)| own == code)
            .map(|(group, _)| group)
    }
}

/// A household measure: what `amount` of `name` weighs, as in "3 cloves" or ".5 cup, sliced".
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Measure {
    pub amount: f64,
    pub name: &'static str,
    /// The weight of the whole `amount`, in grams.
    pub grams: f64,
}

impl Measure {
    /// The weight of one, in grams.
    pub fn grams_each(&self) -> f64 {
        self.grams / self.amount
    }
}

/// One food of the release.
#[derive(Debug, Clone, PartialEq)]
pub struct Food {
    pub code: Code,
    /// The release's long description: "Parsnips, raw".
    pub description: String,
    /// Other names that the release gives, separated by commas; mostly empty.
    pub common_names: &'static str,
    /// The maker, for a branded food; mostly empty.
    pub manufacturer: &'static str,
    pub group: Group,
    pub per_100g: Profile,
    pub measures: Vec<Measure>,
    /// The inedible share of the food as bought, in percent of its weight.
    pub refuse_percent: u8,
    /// What the refuse is: "Bone", "Peel and seeds".
    pub refuse_description: &'static str,
}

/// All foods of the release, and the ways to their names.
#[derive(Debug)]
pub struct Table {
    foods: Vec<Food>,
    pub(super) names: Names,
}

impl Table {
    /// Unpacks and indexes the embedded table.
    ///
    /// # Panics
    ///
    /// If the embedded data is damaged, which the tests rule out.
    pub(super) fn load() -> Table {
        let foods = packed::unpack(packed::EMBEDDED).expect("the embedded table is whole");
        let names = Names::new(&foods);
        Table { foods, names }
    }

    /// The food of a code.
    pub fn get(&self, code: Code) -> Option<&Food> {
        self.position(code).map(|at| &self.foods[at])
    }

    /// Every food, in order of its code.
    pub fn foods(&self) -> &[Food] {
        &self.foods
    }

    pub(super) fn position(&self, code: Code) -> Option<usize> {
        self.foods
            .binary_search_by_key(&code, |food| food.code)
            .ok()
    }
}
