import subprocess
import sys
from pathlib import Path

PROBE = """
import sys
from pathlib import Path
from afield.plugins.geometry.positions import read_position
from afield.plugins.geometry.readers import read_layer
read_layer(Path(sys.argv[1]), "a.geojson")
read_layer(Path(sys.argv[2]), "a.gpx")
read_position({"locator": "DM19iv"}, None)
print([name for name in ("numpy", "pyogrio", "pyproj", "shapely", "mgrs") if name in sys.modules])
"""


def test_reading_text_formats_imports_no_heavy_library(tmp_path: Path) -> None:
    (tmp_path / "a.geojson").write_text('{"type": "Point", "coordinates": [1, 2]}')
    (tmp_path / "a.gpx").write_text('<gpx><wpt lat="1" lon="2"/></gpx>')
    command = [sys.executable, "-c", PROBE, str(tmp_path / "a.geojson"), str(tmp_path / "a.gpx")]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
