"""stand-in"""
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from onedatum.foundation.errors import OnedatumError
class NotThere(OnedatumError): pass
@dataclass(frozen=True)
class Kept:
    text: str; version: str
@dataclass(frozen=True)
class Saved:
    version: str; conflict: None = None
class Conflict: pass
@dataclass(frozen=True)
class Row:
    name: str; tag: str = ""; service: str = ""; kept_at: str = ""; fault: str = ""
    def as_data(self): return self.__dict__
class Folder:
    def __init__(self, path): self.path = Path(path)
    def cases(self): return [Row(p.stem) for p in sorted(self.path.glob("*.yaml"))]
    def read(self, name):
        p = self.path / f"{name}.yaml"
        if not p.is_file(): raise NotThere(f"no case {name}")
        b = p.read_bytes(); return Kept(b.decode(), sha256(b).hexdigest())
    def version(self, name, version): return self.read(name)
    def save(self, name, text, version):
        (self.path / f"{name}.yaml").write_text(text); return Saved(self.read(name).version)
    def undo(self, name, version): return Saved(self.read(name).version)
    redo = undo
