//! `scratch FILE MIGRATIONS`: create the file and run the migrations of the folder on it.

use std::path::Path;

use sqlx::ConnectOptions;
use sqlx::migrate::Migrator;
use sqlx::sqlite::SqliteConnectOptions;

#[tokio::main(flavor = "current_thread")]
async fn main() -> Result<(), Box<dyn std::error::Error>> {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let [file, migrations] = arguments.as_slice() else {
        return Err("usage: scratch FILE MIGRATIONS".into());
    };
    let options = SqliteConnectOptions::new()
        .filename(file)
        .create_if_missing(true);
    let mut connection = options.connect().await?;
    let migrator = Migrator::new(Path::new(migrations)).await?;
    migrator.run(&mut connection).await?;
    Ok(())
}
