//! Prints the invented example's brief as JSON.

fn main() -> serde_json::Result<()> {
    println!("{}", serde_json::to_string_pretty(&lieflat::example::brief())?);
    Ok(())
}
