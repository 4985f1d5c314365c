//! Reading and writing files: whole or not at all.

use crate::report::Input;
use crate::survey::{Files, LARGEST_FILE};
use sha2::{Digest, Sha256};
use std::fs::File;
use std::io::{self, Read, Write};
use std::path::Path;

/// Files from the disk.
pub(crate) struct Disk;

impl Files for Disk {
    /// No more of a file is read than one byte beyond the largest that is accepted.
    fn read(&self, path: &Path) -> io::Result<Vec<u8>> {
        let mut bytes = Vec::new();
        File::open(path)?.take(LARGEST_FILE as u64 + 1).read_to_end(&mut bytes)?;
        Ok(bytes)
    }
}

/// The bytes of the file that a command was given; an error is the text for the user.
pub(crate) fn read_input(path: &Path, what: &str) -> Result<Vec<u8>, String> {
    let shown = path.display();
    Disk.read(path).map_err(|fault| {
        let (why, help) = match fault.kind() {
            io::ErrorKind::NotFound => {
                ("There is no such file".to_owned(), format!("check the name and the folder of the {what}"))
            }
            io::ErrorKind::IsADirectory => {
                ("This is a folder, not a file".to_owned(), format!("name the {what} in it"))
            }
            io::ErrorKind::PermissionDenied => {
                ("This file may not be read".to_owned(), "ask for the right to read it".to_owned())
            }
            _ => (format!("This file cannot be read: {fault}"), "check the disk or the network".to_owned()),
        };
        format!("{shown}: error: {why}. (file/read)\n    {help}\n")
    })
}

/// Name and fingerprint of the file that an answer belongs to.
pub(crate) fn input_of(path: &Path, bytes: &[u8]) -> Input {
    Input {
        file: path
            .file_name()
            .map_or_else(|| path.display().to_string(), |name| name.to_string_lossy().into_owned()),
        sha256: Sha256::digest(bytes).iter().map(|byte| format!("{byte:02x}")).collect(),
    }
}

/// Refuses a file that could not be written later, before anything is computed for it.
///
/// # Errors
/// The text for the user: the folder is missing, or the name is taken by a folder.
pub(crate) fn check_target(path: &Path, option: &str) -> Result<(), String> {
    let folder = folder_of(path);
    let shown = path.display();
    if path.is_dir() {
        return Err(format!(
            "{shown}: error: This is a folder, and {option} writes a file. (file/write)\n    name a file in it\n"
        ));
    }
    if !folder.is_dir() {
        return Err(format!(
            "{shown}: error: The folder {} does not exist. (file/write)\n    make it first, or name another file for {option}\n",
            folder.display()
        ));
    }
    Ok(())
}

/// Refuses a folder whose name a file has.
///
/// # Errors
/// The text for the user.
pub(crate) fn check_folder(path: &Path, option: &str) -> Result<(), String> {
    if path.exists() && !path.is_dir() {
        return Err(format!(
            "{}: error: This is a file, and {option} writes several files into a folder. (file/write)\n    name a folder; it is made where there is none\n",
            path.display()
        ));
    }
    Ok(())
}

/// The text for a file or folder that could not be written after all.
pub(crate) fn write_fault(path: &Path, fault: &io::Error) -> String {
    // A temporary file's own name would only confuse; what the system says of it is kept.
    let why = fault.kind();
    format!(
        "{}: error: It cannot be written: {why}. (file/write)\n    check the right to write there, and the room on the disk\n",
        path.display()
    )
}

fn folder_of(path: &Path) -> &Path {
    path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."))
}

/// Writes `bytes` to a temporary file beside `path` and renames it, so that `path` is never half-written.
///
/// # Errors
/// When the folder does not exist or cannot be written to.
pub(crate) fn write_whole(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let mut file = tempfile::NamedTempFile::new_in(folder_of(path))?;
    file.write_all(bytes)?;
    file.flush()?;
    // A temporary file is private; the finished one gets the rights an ordinary new file has.
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        std::fs::set_permissions(file.path(), std::fs::Permissions::from_mode(0o644))?;
    }
    file.persist(path).map_err(|fault| fault.error)?;
    Ok(())
}
