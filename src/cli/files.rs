//! Files read and written by the commands.
//!
//! Owns whole writes: a file is either the old one or the new one, never a part.

use crate::survey::Files;
use std::io::{self, Write};
use std::path::Path;
use tempfile::NamedTempFile;

/// Writes a file beside its target first, and then puts it in the target's place.
///
/// # Errors
/// When the folder cannot be written to, or the target is one that cannot be replaced.
pub fn write_whole(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let folder = match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    };
    let mut file = NamedTempFile::new_in(folder)?;
    file.write_all(bytes)?;
    // Temporary files are for their owner only; a result is read by others too.
    share(&file)?;
    file.as_file().sync_all()?;
    file.persist(path).map_err(|fault| fault.error)?;
    Ok(())
}

#[cfg(unix)]
fn share(file: &NamedTempFile) -> io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    file.as_file().set_permissions(std::fs::Permissions::from_mode(0o644))
}

#[cfg(not(unix))]
fn share(_: &NamedTempFile) -> io::Result<()> {
    Ok(())
}

/// The files that a survey names, read from the disk.
#[derive(Debug, Clone, Copy)]
pub struct Disk;

impl Files for Disk {
    fn read(&self, path: &Path) -> io::Result<Vec<u8>> {
        std::fs::read(path)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_is_replaced_as_a_whole_and_nothing_is_left_beside_it() {
        let folder = tempfile::tempdir().unwrap();
        let target = folder.path().join("result.json");
        write_whole(&target, b"a long first text").unwrap();
        write_whole(&target, b"second").unwrap();
        assert_eq!(Disk.read(&target).unwrap(), b"second");
        assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 1);
    }

    #[test]
    fn a_folder_that_is_not_there_is_a_fault_and_makes_nothing() {
        let folder = tempfile::tempdir().unwrap();
        assert!(write_whole(&folder.path().join("none/result.json"), b"x").is_err());
        // A folder in the target's place is not replaced, and the file beside it is cleared away.
        std::fs::create_dir(folder.path().join("taken")).unwrap();
        assert!(write_whole(&folder.path().join("taken"), b"x").is_err());
        assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 1);
    }
}
