//! Reading and writing files: whole or not at all.

use crate::survey::Files;
use std::io::{self, Write};
use std::path::Path;

/// Files from the disk.
pub(crate) struct Disk;

impl Files for Disk {
    fn read(&self, path: &Path) -> io::Result<Vec<u8>> {
        std::fs::read(path)
    }
}

/// Writes `bytes` to a temporary file beside `path` and renames it, so that `path` is never half-written.
///
/// # Errors
/// When the folder does not exist or cannot be written to.
pub(crate) fn write_whole(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let mut file = tempfile::NamedTempFile::new_in(folder)?;
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
