//! The real binary in a fresh folder: what it writes, what it says, how it ends.

mod common;

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

use common::said::english;
use tempfile::TempDir;

fn groundsheet(folder: &Path, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_groundsheet"))
        .args(arguments)
        .current_dir(folder)
        .output()
        .expect("the binary runs")
}

fn example(name: &str) -> String {
    format!("{}/jobs/{name}.yaml", env!("CARGO_MANIFEST_DIR"))
}

#[test]
fn each_example_draws_and_the_same_bytes_from_another_folder_and_time_zone() {
    let (one, two) = (TempDir::new().unwrap(), TempDir::new().unwrap());
    for name in ["landing", "two-walls", "pool-surround"] {
        let drawn = groundsheet(one.path(), &["draw", &example(name), "-o", "out"]);
        assert_ne!(
            drawn.status.code(),
            Some(2),
            "{}",
            String::from_utf8_lossy(&drawn.stderr)
        );
        let again = Command::new(env!("CARGO_BIN_EXE_groundsheet"))
            .args(["draw", &example(name), "-o", "."])
            .current_dir(two.path())
            .env("TZ", "Pacific/Auckland")
            .env("LANG", "de_DE.UTF-8")
            .output()
            .expect("the binary runs");
        assert_eq!(drawn.status.code(), again.status.code());
    }
    let mut compared = 0;
    for entry in fs::read_dir(one.path().join("out")).unwrap() {
        let entry = entry.unwrap();
        let other = two.path().join(entry.file_name());
        assert_eq!(
            fs::read(entry.path()).unwrap(),
            fs::read(other).unwrap(),
            "{:?}",
            entry.file_name()
        );
        compared += 1;
    }
    // Each job gives at least a sheet, a PDF, a report and a takeoff.
    assert!(compared >= 12, "{compared}");
}

#[test]
fn a_bad_job_writes_nothing_and_ends_with_two() {
    let folder = TempDir::new().unwrap();
    fs::write(
        folder.path().join("bad.yaml"),
        "job: {title: Bad}\npaving:\n  - rectangle: {corner: [0, 0], width: 14, depth: 12'}\n\
         pavers: {field: {size: [8\", 4\"], thicknes: 60 mm}}\n",
    )
    .unwrap();
    let drawn = groundsheet(folder.path(), &["draw", "bad.yaml", "-o", "out"]);
    assert_eq!(drawn.status.code(), Some(2));
    let said = String::from_utf8_lossy(&drawn.stderr);
    assert!(said.contains("bad.yaml:3:"), "{said}");
    assert!(said.contains("bad.yaml:4:"), "{said}");
    assert!(said.contains("thickness"), "{said}");
    assert!(!folder.path().join("out").exists());
}

/// Two jobs of one name are not written over each other: the first is drawn, the second refused.
#[test]
fn jobs_of_one_name_are_not_written_over_each_other() {
    let folder = TempDir::new().unwrap();
    let other = folder.path().join("other");
    fs::create_dir(&other).unwrap();
    let job = example("landing");
    fs::copy(&job, folder.path().join("patio.yaml")).unwrap();
    fs::copy(&job, other.join("patio.yaml")).unwrap();
    let drawn = groundsheet(
        folder.path(),
        &["draw", "patio.yaml", "other/patio.yaml", "-o", "out"],
    );
    assert_eq!(drawn.status.code(), Some(2));
    let said = String::from_utf8_lossy(&drawn.stderr);
    assert!(
        said.contains("other/patio.yaml: it would be written over patio.svg of patio.yaml"),
        "{said}"
    );
    let drawn = String::from_utf8_lossy(&drawn.stdout).into_owned();
    assert_eq!(
        drawn.matches("wrote").count(),
        fs::read_dir(folder.path().join("out")).unwrap().count()
    );
}

#[test]
fn the_starter_job_draws_as_it_is_and_is_never_overwritten() {
    let folder = TempDir::new().unwrap();
    assert_eq!(
        groundsheet(folder.path(), &["new", "first.yaml"])
            .status
            .code(),
        Some(0)
    );
    let drawn = groundsheet(folder.path(), &["draw", "first.yaml"]);
    assert_eq!(
        drawn.status.code(),
        Some(0),
        "{}{}",
        String::from_utf8_lossy(&drawn.stdout),
        String::from_utf8_lossy(&drawn.stderr)
    );
    for name in [
        "first.svg",
        "first.pdf",
        "first.report.json",
        "first.takeoff.csv",
    ] {
        assert!(folder.path().join(name).is_file(), "{name}");
    }
    fs::write(folder.path().join("first.yaml"), "mine").unwrap();
    assert_eq!(
        groundsheet(folder.path(), &["new", "first.yaml"])
            .status
            .code(),
        Some(2)
    );
    assert_eq!(
        fs::read_to_string(folder.path().join("first.yaml")).unwrap(),
        "mine"
    );
}

#[test]
fn a_missing_file_and_bad_arguments_end_with_two() {
    let folder = TempDir::new().unwrap();
    assert_eq!(
        groundsheet(folder.path(), &["check", "nowhere.yaml"])
            .status
            .code(),
        Some(2)
    );
    assert_eq!(groundsheet(folder.path(), &["draw"]).status.code(), Some(2));
    assert_eq!(
        groundsheet(folder.path(), &["--help"]).status.code(),
        Some(0)
    );
}

#[test]
fn one_thread_and_four_give_the_same_bytes() {
    let folder = TempDir::new().unwrap();
    let job = example("two-walls");
    for threads in ["1", "4"] {
        let drawn = groundsheet(
            folder.path(),
            &["draw", &job, "--png", "--threads", threads, "-o", threads],
        );
        assert_ne!(drawn.status.code(), Some(2));
    }
    let mut compared = 0;
    for entry in fs::read_dir(folder.path().join("1")).unwrap() {
        let name = entry.unwrap().file_name();
        let read = |threads: &str| fs::read(folder.path().join(threads).join(&name)).unwrap();
        assert!(read("1") == read("4"), "{name:?}");
        compared += 1;
    }
    assert!(compared >= 5, "{compared}");
}

/// The terminal speaks the language asked for, whatever the environment and the job's sheets say.
#[test]
fn the_terminal_speaks_the_language_asked_for() {
    let folder = TempDir::new().unwrap();
    let said = |arguments: &[&str]| {
        let output = groundsheet(folder.path(), arguments);
        String::from_utf8(output.stdout).unwrap() + &String::from_utf8(output.stderr).unwrap()
    };
    let landing = example("landing");
    let spanish = said(&["check", "--takeoff", &landing, "--language", "es"]);
    // How each check ends is said before its id, in the same order as in English.
    let english = said(&["check", "--takeoff", &landing]);
    let ends = |text: &str| -> Vec<String> {
        let lines = text.lines().filter(|line| line.contains(&['.', '_'][..]));
        let ends = lines.filter_map(|line| {
            let words: Vec<&str> = line.split_whitespace().collect();
            let id = words.iter().take(3).position(|word| is_id(word))?;
            (id > 0).then(|| words[0].to_owned())
        });
        ends.collect()
    };
    let in_spanish: Vec<&str> = ends(&english)
        .iter()
        .map(|end| match end.as_str() {
            "pass" => "bien",
            "warn" => "aviso",
            other => panic!("{other}"),
        })
        .collect();
    assert!(in_spanish.len() > 15 && in_spanish.contains(&"aviso"));
    assert_eq!(ends(&spanish), in_spanish, "{spanish}");
    assert!(spanish.contains("levels.fall "), "{spanish}");
    assert!(
        spanish.contains("Landing: pendiente 2% (al menos "),
        "{spanish}"
    );
    assert!(
        spanish.contains("cama bajo los paneles: base "),
        "{spanish}"
    );
    // A job in Spanish is checked in English unless asked for.
    let job = std::fs::read_to_string(&landing).unwrap() + "language: es\n";
    let in_spanish = folder.path().join("aterrizaje.yaml");
    std::fs::write(&in_spanish, job).unwrap();
    let plain = said(&["check", in_spanish.to_str().unwrap()]);
    assert!(plain.contains("Landing falls 2% (at least "), "{plain}");
    let french = said(&["--language", "fr", "check", &landing]);
    assert!(
        french.contains("Landing\u{a0}: pente 2% (au moins "),
        "{french}"
    );
    assert!(said(&["check", &landing]).contains("Landing falls 2% (at least "));
    assert!(said(&["new", "a.yaml", "--language", "fr"]).contains("écrit a.yaml"));
    let again = said(&["new", "a.yaml", "--language", "fr"]);
    assert!(again.contains("erreur: a.yaml existe déjà"), "{again}");
    for (language, words) in [
        (
            "en",
            "error: cannot read no.yaml: there is no such file or folder",
        ),
        (
            "es",
            "error: no se puede leer no.yaml: no hay tal archivo ni carpeta",
        ),
        (
            "fr",
            "erreur: impossible de lire no.yaml\u{a0}: fichier ou dossier introuvable",
        ),
    ] {
        let said = said(&["check", "no.yaml", "--language", language]);
        assert_eq!(said.trim_end(), words);
    }
    let nowhere = said(&["draw", &landing, "-o", "a.yaml", "--language", "fr"]);
    assert!(
        nowhere
            .contains("erreur: impossible d’écrire a.yaml\u{a0}: un fichier de ce nom existe déjà"),
        "{nowhere}"
    );
    assert!(said(&["check", &landing, "--language", "de"]).contains("--language"));
}

/// Whether a word is the id of a check, such as `levels.fall_building`.
fn is_id(word: &str) -> bool {
    let plain =
        |part: &str| !part.is_empty() && part.bytes().all(|b| b.is_ascii_lowercase() || b == b'_');
    word.split_once('.')
        .is_some_and(|(family, name)| plain(family) && plain(name))
}

/// What is wrong in a job file is said in the language asked for: found, right, hint.
#[test]
fn what_is_wrong_in_a_job_is_said_in_the_language_asked_for() {
    let folder = TempDir::new().unwrap();
    let text = fs::read_to_string(example("landing")).unwrap();
    let bad =
        text.replacen("job:", "zzz: 1\njob:", 1)
            .replacen("thickness: 3 1/8\"", "thicknes: 3", 1);
    assert!(bad.contains("thicknes: 3"), "{bad}");
    fs::write(folder.path().join("bad.yaml"), bad).unwrap();
    let said = |language: &str| {
        let output = groundsheet(
            folder.path(),
            &["check", "bad.yaml", "--language", language],
        );
        assert_eq!(output.status.code(), Some(2));
        String::from_utf8(output.stderr).unwrap()
    };
    for (language, wanted) in [
        (
            "es",
            [
                "error: `zzz` no es una clave del archivo de obra (unknown-key)",
                "correcto sería: una de las claves size, thickness, ",
                "pista: quizá se quiso decir `thickness`",
                "error: falta `pavers.field.thickness` (missing)",
                "correcto sería: una longitud como 80 mm o 3 1/8\"",
            ],
        ),
        (
            "fr",
            [
                "erreur: `zzz` n’est pas une clé du fichier de chantier (unknown-key)",
                "correct serait\u{a0}: l’une des clés size, thickness, ",
                "indice\u{a0}: peut-être `thickness`",
                "erreur: `pavers.field.thickness` manque (missing)",
                "correct serait\u{a0}: une longueur comme 80 mm ou 3 1/8\"",
            ],
        ),
    ] {
        let said = said(language);
        for words in wanted {
            assert!(said.contains(words), "{words}\n{said}");
        }
    }
}

/// Help, and arguments that cannot be read, are said in the language asked for: what is wrong, what
/// would be right and how the command is used; they end as they do in English.
#[test]
fn help_and_bad_arguments_are_said_in_the_language_asked_for() {
    let folder = TempDir::new().unwrap();
    let said = |arguments: &[&str], language: &str| {
        let arguments = [arguments, &["--language", language]].concat();
        let output = groundsheet(folder.path(), &arguments);
        let text = [output.stdout, output.stderr].concat();
        (output.status.code(), String::from_utf8(text).unwrap())
    };
    let good: [&[&str]; 6] = [
        &["--help"],
        &["draw", "-h"],
        &["check", "--help"],
        &["new", "--help"],
        &["help"],
        &["help", "draw"],
    ];
    let bad: [&[&str]; 15] = [
        &[],
        &["draw"],
        &["drew", "a.yaml"],
        &["help", "drew"],
        &["draw", "a.yaml", "--ouut", "b"],
        &["draw", "a.yaml", "--dpi", "many"],
        &["draw", "a.yaml", "--threads", "-2"],
        &["draw", "a.yaml", "--threads=many"],
        &["draw", "a.yaml", "--out"],
        &["draw", "a.yaml", "--png=3"],
        &["draw", "a.yaml", "--png", "--png"],
        &["draw", "a.yaml", "--tile", "a5"],
        &["new", "a.yaml", "b.yaml"],
        &["check", "--takeoff"],
        &["draw", "a.yaml", "--threads", "0"],
    ];
    for (arguments, code) in good.map(|g| (g, 0)).into_iter().chain(bad.map(|b| (b, 2))) {
        let (ended, in_english) = said(arguments, "en");
        assert_eq!(ended, Some(code), "{arguments:?}: {in_english}");
        for language in ["es", "fr"] {
            let (ended, text) = said(arguments, language);
            assert_eq!(ended, Some(code), "{arguments:?}: {text}");
            assert_eq!(text.lines().count(), in_english.lines().count(), "{text}");
            let mut lines = text
                .lines()
                .filter(|line| line.contains(char::is_alphabetic));
            let kept = lines.find(|line| in_english.lines().any(|other| other == *line));
            assert_eq!(kept, None, "{text}");
            assert_eq!(english(&text), Vec::<String>::new(), "{text}");
        }
    }
    for (arguments, language, words) in [
        (bad[1], "es", "error: falta `<OBRA>...` en la orden\n"),
        (
            bad[2],
            "fr",
            "erreur: `drew` n’est pas une commande\n    indice\u{a0}: peut-être `draw`\n",
        ),
        (
            bad[4],
            "es",
            "error: `--ouut` no es un argumento aquí\n    pista: quizá se quiso decir `--out`\n",
        ),
        (
            bad[5],
            "fr",
            "    correct serait\u{a0}: un nombre de points par pouce, comme 110\n",
        ),
        (
            bad[11],
            "es",
            "    correcto sería: una de las palabras letter, a4\n",
        ),
        (
            bad[1],
            "fr",
            "\nUtilisation\u{a0}: groundsheet draw --language <LANGUE> <CHANTIER>...\n",
        ),
    ] {
        let (_, text) = said(arguments, language);
        assert!(text.contains(words), "{words}: {text}");
    }
    // Wherever the language stands, and however it is written.
    let output = groundsheet(folder.path(), &["--language=es", "draw"]);
    assert!(String::from_utf8(output.stderr).unwrap().contains("falta "));
    assert_eq!(output.status.code(), Some(2));
}
