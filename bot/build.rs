//! A new migration step is a new file, which the compiler does not notice by itself.
fn main() {
    println!("cargo:rerun-if-changed=../migrations");
}
