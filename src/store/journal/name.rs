//! Things known by a name: components, places, containers.

use super::Writing;
use crate::domain::kitchen::{Component, Container, Place};
use crate::store::error::{Doing, Result};
use crate::store::words;

impl Writing<'_> {
    pub(super) async fn component(&mut self, component: &Component) -> Result<()> {
        sqlx::query!(
            "insert into component (household_id, component_id, name, name_key) values (?, ?, ?, ?)",
            self.household,
            component.id.0,
            component.name,
            component.key
        )
        .execute(self.transaction.connection())
        .await
        .doing("keep a component's name")?;
        Ok(())
    }

    pub(super) async fn place(&mut self, place: &Place) -> Result<()> {
        let kind = words::place_word(place.kind);
        sqlx::query!(
            "insert into place (household_id, place_id, name, kind) values (?, ?, ?, ?)",
            self.household,
            place.id.0,
            place.name,
            kind
        )
        .execute(self.transaction.connection())
        .await
        .doing("keep a place")?;
        Ok(())
    }

    pub(super) async fn container(&mut self, container: &Container) -> Result<()> {
        sqlx::query!(
            "insert into container (household_id, container_id, name) values (?, ?, ?)",
            self.household,
            container.id.0,
            container.name
        )
        .execute(self.transaction.connection())
        .await
        .doing("keep a container")?;
        Ok(())
    }
}
