//! What is read has a largest size, what is written has a mode, and the program takes up no library that lies beside it.

use std::os::unix::fs::PermissionsExt;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::{Duration, Instant};

use super::program::{LOAF, commis, program, run};

fn folder(name: &str) -> PathBuf {
    let folder =
        Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("{name}-{}", std::process::id()));
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).expect("a folder");
    folder
}

/// With half a gigabyte of memory, so that whoever reads on is found out.
fn within_memory(args: &[&str]) -> std::process::Output {
    let mut shell = program();
    let mut command = Command::new("sh");
    command.args(["-c", "ulimit -v 600000; exec \"$0\" \"$@\""]);
    command.arg(shell.get_program()).args(args);
    for (name, value) in shell.get_envs() {
        command.env(name, value.unwrap_or_default());
    }
    command.current_dir(super::rehearsal::root());
    let _ = shell.stdin(std::process::Stdio::null());
    run(&mut command, "")
}

#[test]
fn what_has_no_end_is_left_at_the_limit() {
    let begun = Instant::now();
    for args in [
        vec!["check", "/dev/zero"],
        vec!["weigh", "/dev/zero"],
        vec!["rehearse", LOAF, "/dev/zero"],
        vec!["--settings", "/dev/zero", "ready"],
    ] {
        let o = within_memory(&args);
        let told = String::from_utf8_lossy(&o.stderr).into_owned();
        assert_eq!(o.status.code(), Some(2), "{args:?}: {told}");
        assert!(
            told.contains("cannot be read: expected at most"),
            "{args:?}: {told}"
        );
        assert!(told.len() < 1_000, "{args:?}");
    }
    let folder = folder("huge");
    let huge = folder.join("huge.toml");
    std::fs::File::create(&huge)
        .and_then(|f| f.set_len(1 << 40))
        .expect("a file with a hole");
    let o = within_memory(&["check", &huge.display().to_string()]);
    assert!(String::from_utf8_lossy(&o.stderr).contains("expected at most 4 MB"));
    assert!(begun.elapsed() < Duration::from_mins(1));
    let _ = std::fs::remove_dir_all(folder);
}

#[test]
fn an_endless_line_is_no_order_and_takes_no_room() {
    let mut input = "x".repeat(8 << 20);
    input.push_str("\nnext\n");
    let o = commis(&["understand", LOAF], &input);
    let text = String::from_utf8_lossy(&o.stdout).into_owned();
    assert!(o.status.success());
    assert!(
        text.lines().last().is_some_and(|l| l.contains("\"next\"")),
        "{}",
        text.len()
    );
    assert!(text.len() < 100_000, "{}", text.len());
}

/// Written for its owner alone, whatever the umask; a mode that the owner has given stays.
#[test]
fn settings_are_private_and_keep_their_mode() {
    for umask in ["000", "022", "277"] {
        let home = folder(&format!("umask-{umask}"));
        let mut command = Command::new("sh");
        command
            .args([
                "-c",
                &format!("umask {umask}; exec \"$0\" ask 'how many grams in two cups of flour'"),
            ])
            .arg(env!("CARGO_BIN_EXE_commis"))
            .env("XDG_CONFIG_HOME", &home)
            .current_dir(super::rehearsal::root());
        let o = run(&mut command, "");
        assert!(o.status.success(), "{}", String::from_utf8_lossy(&o.stderr));
        let file = home.join("commis/settings.toml");
        let mode =
            |path: &Path| std::fs::metadata(path).expect("there").permissions().mode() & 0o777;
        assert_eq!(mode(&file), 0o600, "under {umask}");
        assert_eq!(mode(&home.join("commis")) & 0o077, 0, "under {umask}");
        for given in [0o640, 0o400, 0o600] {
            std::fs::set_permissions(&file, std::fs::Permissions::from_mode(given)).expect("set");
            let remember = commis::settings::Remember {
                brief: Some(given != 0o640),
                ..commis::settings::Remember::default()
            };
            remember.write(&file).expect("written");
            assert_eq!(mode(&file), given);
        }
        let _ = std::fs::remove_dir_all(home);
    }
}

/// Libraries with the names of those that it needs lie beside the program, above it and in folders of a build's names, and
/// are left alone.
#[cfg(all(feature = "recogniser", feature = "sound"))]
#[test]
fn no_library_around_the_program_is_taken_up() {
    let place = folder("beside");
    let bin = place.join("target/debug");
    let around = [
        "target/debug",
        "target/debug/deps",
        "target",
        "target/lib",
        "target/vendor/vosk",
        "vendor/vosk",
        "lib",
        "",
    ];
    for folder in around.map(|f| place.join(f)) {
        std::fs::create_dir_all(&folder).expect("a folder");
        for library in [
            "libvosk.so",
            "libasound.so.2",
            "libgcc_s.so.1",
            "libm.so.6",
            "libc.so.6",
            "libstdc++.so.6",
        ] {
            std::fs::write(folder.join(library), "no library").expect("written");
        }
    }
    for program in ["target/debug/commis", "target/debug/deps/commis"] {
        let program = place.join(program);
        std::fs::copy(env!("CARGO_BIN_EXE_commis"), &program).expect("copied");
        // Neither from where it lies nor from where it is started.
        let o = Command::new(&program)
            .arg("--version")
            .current_dir(&bin)
            .env_remove("LD_LIBRARY_PATH")
            .output()
            .expect("it starts");
        assert!(o.status.success(), "{}", String::from_utf8_lossy(&o.stderr));
    }
    let _ = std::fs::remove_dir_all(place);
}
