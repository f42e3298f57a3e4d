//! Tells the linker where `./setup` put libvosk, and the finished program where to look for it: in that folder, by its whole
//! path, and where an installed program has it. Nothing else lies in either, and neither is beside the program or above it,
//! where any library would be taken up.

use std::env;
use std::path::Path;

fn main() {
    println!("cargo:rerun-if-changed=build.rs");
    if env::var_os("CARGO_FEATURE_RECOGNISER").is_none() {
        return;
    }
    let root = env::var("CARGO_MANIFEST_DIR").expect("cargo always sets CARGO_MANIFEST_DIR");
    let library = Path::new(&root).join("vendor/vosk");
    println!(
        "cargo:rerun-if-changed={}",
        library.join("libvosk.so").display()
    );
    if !library.join("libvosk.so").exists() {
        println!(
            "cargo:warning=vendor/vosk/libvosk.so is not there: run ./setup, or build without hearing by \
             `cargo build --no-default-features --features program,sound,keypad`"
        );
    }
    println!("cargo:rustc-link-search=native={}", library.display());
    println!("cargo:rustc-link-arg=-Wl,-rpath,{}", library.display());
    // An installed bin/ lies beside lib/commis/.
    println!("cargo:rustc-link-arg=-Wl,-rpath,$ORIGIN/../lib/commis");
}
