//! `groundsheet draw JOB… -o DIR`: sheets, report and takeoff of each job.

use std::collections::BTreeMap;
use std::num::NonZeroUsize;
use std::path::{Path, PathBuf};

use clap::Args;

use crate::design::Design;
use crate::diag::Diagnostic;
use crate::draw::{self, Defect};
use crate::export::{self, NoPicture};
use crate::language::{Language, Phrase, phrase, say};
use crate::parallel;
use crate::report;
use crate::sheet;

use super::run::{self, Worked};
use super::{Outcome, say, write};

/// Resolution of the PNG when none is asked for: enough to read on a screen.
const SCREEN_DPI: f64 = 110.0;

/// What `draw` takes; `help` says what each is for.
#[derive(Args)]
pub struct Options {
    #[arg(required = true, value_name = "JOB")]
    jobs: Vec<PathBuf>,
    #[arg(short = 'o', long = "out", value_name = "DIR", default_value = ".")]
    out: PathBuf,
    #[arg(long)]
    png: bool,
    #[arg(long, value_name = "DPI", default_value_t = SCREEN_DPI)]
    dpi: f64,
    #[arg(long, value_name = "COUNT")]
    threads: Option<NonZeroUsize>,
    #[arg(long, value_name = "PAPER", value_parser = ["letter", "a4"])]
    tile: Option<String>,
}

/// Draws each job.
pub fn run(options: &Options, language: Language) -> Outcome {
    parallel::limit(options.threads);
    let mut written = Written::new();
    let jobs = options.jobs.iter();
    jobs.map(|path| one(path, options, &mut written, language))
        .max()
        .unwrap_or(Outcome::Well)
}

/// The files that a run has written, by their names in small letters, each with the job that it is of.
type Written = BTreeMap<String, PathBuf>;

/// Draws one job and says what came of it.
fn one(path: &Path, options: &Options, written: &mut Written, language: Language) -> Outcome {
    let Some(worked) = run::work(path, language) else {
        return Outcome::Unusable;
    };
    match drawn(path, &worked, options, written, language) {
        Ok(paths) => {
            let title = &worked.design.job.info.title;
            say::line(&format!("{}: {title}", path.display()));
            for file in paths {
                let words = say!(language, "wrote {file}", file = file.display().to_string());
                say::line(&format!("  {words}"));
            }
            run::print_checks(&worked.findings, language)
        }
        Err(found) => {
            say::error(&found, language);
            Outcome::Unusable
        }
    }
}

/// Writes the files of a job; where they are.
///
/// # Errors
/// Why none of them is written.
fn drawn(
    path: &Path,
    worked: &Worked,
    options: &Options,
    written: &mut Written,
    language: Language,
) -> Result<Vec<PathBuf>, Phrase> {
    let file = path.display().to_string();
    let stem = path.file_stem().map(|stem| stem.to_string_lossy());
    let stem = stem.ok_or_else(|| phrase!("{file} has no file name", file = &file))?;
    let files = outputs(&stem, worked, options, language);
    let files = files.map_err(|message| phrase!("{file}: {message}", file = &file, message))?;
    let job = std::fs::canonicalize(path).ok();
    for (name, _) in &files {
        if job.is_some() && std::fs::canonicalize(options.out.join(name)).ok() == job {
            return Err(phrase!(
                "{file} would be written over the job itself",
                file = name
            ));
        }
        if let Some(other) = written.get(&alike(name)) {
            return Err(phrase!(
                "{file}: it would be written over {name} of {other}; give one of the jobs another name",
                file = &file,
                name,
                other = other.display().to_string()
            ));
        }
    }
    let paths = write::all(&options.out, &files)?;
    let names = files.iter().map(|(name, _)| alike(name));
    written.extend(names.map(|name| (name, path.to_owned())));
    Ok(paths)
}

/// A file's name as some file systems compare it: they do not tell letters by their case.
fn alike(name: &str) -> String {
    name.to_lowercase()
}

/// Why a picture is not made, in words.
fn no_picture(why: &NoPicture) -> Phrase {
    let dots = |[across, down]: [f64; 2]| format!("{across} × {down}");
    match why {
        NoPicture::Resolution(dpi) => phrase!(
            "{dpi} dots per inch is no resolution",
            dpi = dpi.to_string()
        ),
        NoPicture::Size { across, down } => phrase!(
            "a picture of {size} dots is not made; choose another resolution",
            size = dots([*across, *down])
        ),
        NoPicture::Memory { across, down } => phrase!(
            "no memory for a picture of {size} dots",
            size = dots([*across, *down])
        ),
        NoPicture::Svg(why) => phrase!("cannot read the SVG: {why}", why),
        NoPicture::Writing(why) => phrase!("cannot write the picture: {why}", why),
    }
}

/// The output files of one job by name.
fn outputs(
    stem: &str,
    worked: &Worked,
    options: &Options,
    language: Language,
) -> Result<Vec<(String, Vec<u8>)>, Phrase> {
    let mut whole = set(stem, &worked.design, worked, options, language)?;
    let spec = &worked.design.job.sheet;
    for audience in &spec.further_audiences {
        let mut design = worked.design.clone();
        design.job.sheet.audience = *audience;
        let stem = format!("{stem}-{}", audience.word());
        let more = set(&stem, &design, worked, options, language)?;
        whole.files.extend(more.files);
        whole.defects.extend(more.defects);
        for warning in more.warnings {
            if !whole.warnings.contains(&warning) {
                whole.warnings.push(warning);
            }
        }
    }
    let Set {
        mut files,
        defects,
        warnings,
    } = whole;
    run::report(&worked.name, &worked.text, &warnings, language);
    let report = report::json(&worked.design, &worked.takeoff, &worked.findings, &defects);
    files.push((format!("{stem}.report.json"), report.into_bytes()));
    files.push((
        format!("{stem}.takeoff.csv"),
        worked.takeoff.csv().into_bytes(),
    ));
    Ok(files)
}

/// The sheets of one set as files.
struct Set {
    /// The files by name.
    files: Vec<(String, Vec<u8>)>,
    /// What the program found wrong on its own sheets.
    defects: Vec<Defect>,
    /// What of the job the sheets do not follow.
    warnings: Vec<Diagnostic>,
}

/// A part of the work on a set's sheets that needs none of the others.
enum Work {
    Pdf,
    /// Looking for faults on the sheet of that index.
    Check(usize),
    /// The sheet of that index as files of its own.
    Pictures(usize),
}

/// What came of it.
enum Done {
    Files(Result<Vec<(String, Vec<u8>)>, Phrase>),
    Checked(Vec<Defect>),
}

/// The sheets of one set, as files by name; the design is that of the set's audience.
fn set(
    stem: &str,
    design: &Design,
    worked: &Worked,
    options: &Options,
    language: Language,
) -> Result<Set, Phrase> {
    let sheet::Composed { sheets, warnings } =
        sheet::composed(design, &worked.takeoff, &worked.findings);
    let info = &design.job.info;
    let meta = export::Meta {
        title: info.title.clone(),
        author: info.prepared_by.clone().unwrap_or_default(),
        subject: info.site.clone().unwrap_or_default(),
        date: info.date.clone(),
        language: design.job.sheet.languages.first.code().to_string(),
    };
    let pictures = |index: usize| -> Result<Vec<(String, Vec<u8>)>, Phrase> {
        let name = match index {
            0 => stem.to_string(),
            later => format!("{stem}-{}", later + 1),
        };
        let svg = export::svg(&sheets[index]);
        let mut files = Vec::new();
        if options.png {
            files.push((
                format!("{name}.png"),
                export::png(&svg, options.dpi).map_err(|why| no_picture(&why))?,
            ));
        }
        files.push((format!("{name}.svg"), svg.into_bytes()));
        Ok(files)
    };
    // The PDF takes longest, so that it is begun first; it is named last.
    let numbers = || 0..sheets.len();
    let mut works = vec![Work::Pdf];
    works.extend(numbers().map(Work::Check));
    works.extend(numbers().map(Work::Pictures));
    let done = parallel::map(&works, |work| match work {
        Work::Pdf => Done::Files(Ok(vec![(
            format!("{stem}.pdf"),
            export::pdf(&sheets, &meta),
        )])),
        Work::Check(index) => Done::Checked(draw::defects(index + 1, &sheets[*index])),
        Work::Pictures(index) => Done::Files(pictures(*index)),
    });
    let (mut parts, mut defects) = (Vec::new(), Vec::new());
    for one in done {
        match one {
            Done::Files(files) => parts.push(files),
            Done::Checked(found) => defects.extend(found),
        }
    }
    parts.rotate_left(1);
    for defect in &defects {
        let found = say!(
            language,
            "{stem}: a fault of this program, please report it: {defect}",
            stem,
            defect = defect.phrase()
        );
        say::aside(&format!("{}: {found}", say!(language, "warning")));
    }
    if let Some(paper) = options.tile.as_deref().and_then(draw::Paper::named) {
        let pages = sheet::tile::tiles(&sheets, paper);
        let file = (format!("{stem}.tiles.pdf"), export::pdf(&pages, &meta));
        parts.push(Ok(vec![file]));
    }
    let parts: Result<Vec<_>, Phrase> = parts.into_iter().collect();
    Ok(Set {
        files: parts?.into_iter().flatten().collect(),
        defects,
        warnings,
    })
}
