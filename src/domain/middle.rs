//! The middle one of several figures: one that went wrong does not move it.

/// Of an even number, the mean of the two in the middle; `None` of none.
pub fn middle(mut figures: Vec<f64>) -> Option<f64> {
    figures.sort_by(f64::total_cmp);
    let half = figures.len() / 2;
    match figures.len() {
        0 => None,
        len if len.is_multiple_of(2) => Some((figures[half - 1] + figures[half]) / 2.0),
        _ => Some(figures[half]),
    }
}

#[cfg(test)]
mod tests {
    use super::middle;

    #[test]
    fn the_middle_one_is_not_moved_by_one_that_went_wrong() {
        assert_eq!(middle(Vec::new()), None);
        assert_eq!(middle(vec![2.0]), Some(2.0));
        assert_eq!(middle(vec![3.0, 1.0]), Some(2.0));
        assert_eq!(middle(vec![900.0, 1.0, 2.0]), Some(2.0));
    }
}
