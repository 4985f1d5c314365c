//! Samples on an unstructured grid of one cell type, and their encoding as a file's bytes.

use super::{Limits, VtkFault};
use crate::elastic::{Stress, principal_values};
use rayon::prelude::*;
use vtkio::IOBuffer;
use vtkio::model::{
    Attribute, Attributes, ByteOrder, CellType, Cells, DataSet, UnstructuredGridPiece, Version,
    VertexNumbers, Vtk,
};
use vtkio::xml::Compressor;

/// Level 6 takes a third longer and saves nothing; level 1 makes files a fifth larger.
const COMPRESSION: u32 = 3;

/// The fields at one point, in the Cartesian frame of the file.
#[derive(Debug, Clone, Copy)]
pub(super) struct Sample {
    pub at: [f64; 3],
    pub displacement: [f64; 3],
    pub stress: Stress,
}

/// How many bits a number of the file has.
#[derive(Debug, Clone, Copy)]
pub(super) enum Precision {
    Single,
    Double,
}

pub(super) struct Grid {
    pub samples: Vec<Sample>,
    pub cell_type: CellType,
    /// Nodes per cell.
    pub cell_size: usize,
    /// The nodes of all cells, one cell after the other.
    pub cell_nodes: Vec<u64>,
    pub precision: Precision,
}

impl Precision {
    fn buffer<const N: usize>(self, rows: impl IndexedParallelIterator<Item = [f64; N]>) -> IOBuffer {
        match self {
            Self::Single => {
                let rows: Vec<[f32; N]> = rows.map(|row| row.map(|x| x as f32)).collect();
                rows.into_flattened().into()
            }
            Self::Double => rows.collect::<Vec<[f64; N]>>().into_flattened().into(),
        }
    }
}

impl Grid {
    pub(super) fn encode(self, limits: &Limits) -> Result<Vec<u8>, VtkFault> {
        let (samples, bits) = (&self.samples, self.precision);
        let principal: Vec<[f64; 3]> = samples.par_iter().map(|s| principal_values(&s.stress)).collect();
        let displacement = bits.buffer(samples.par_iter().map(|s| s.displacement));
        let stress = bits.buffer(samples.par_iter().map(|s| s.stress));
        let used = bits.buffer(principal.par_iter().map(|p| [limits.used(p)]));
        let size = self.cell_size;
        let count = self.cell_nodes.len() / size;
        let piece = UnstructuredGridPiece {
            points: bits.buffer(samples.par_iter().map(|s| s.at)),
            cells: Cells {
                cell_verts: VertexNumbers::XML {
                    connectivity: self.cell_nodes,
                    offsets: (1..=count).map(|cell| (size * cell) as u64).collect(),
                },
                types: vec![self.cell_type; count],
            },
            data: Attributes {
                point: vec![
                    Attribute::generic("displacement_mm", 3).with_data(displacement),
                    Attribute::generic("stress_MPa", 6).with_data(stress),
                    Attribute::generic("principal_MPa", 3)
                        .with_data(bits.buffer(principal.par_iter().copied())),
                    Attribute::generic("use_of_allowable", 1).with_data(used),
                ],
                cell: Vec::new(),
            },
        };
        let file = Vtk {
            version: Version::new_xml(1, 0),
            title: String::new(),
            byte_order: ByteOrder::LittleEndian,
            data: DataSet::inline(piece),
            file_path: None,
        };
        let fault = |error: vtkio::xml::Error| VtkFault::Encoding(format!("{error:?}"));
        let mut bytes = Vec::new();
        file.try_into_xml_format(Compressor::ZLib, COMPRESSION)
            .map_err(fault)?
            .write(&mut bytes)
            .map_err(fault)?;
        Ok(bytes)
    }
}
