"""Many records: every one once, whatever the engine; a broken run goes on; a bad record stops nobody."""

from __future__ import annotations

import pytest

from midframe.demo import load, text
from midframe.dossier.figures import FigureSettings, figures
from midframe.faults import BadSetting
from midframe.fleet import Cluster, Failed, Finished, Job, Local, join, run, write_csv, write_parquet

QUICK = FigureSettings(limit=200, draws=1_000, upkeep=False)
TWO = [Job("a.device.toml", text("tern-2")), Job("b.device.toml", text("heron-tab"))]
BAD = Job("bad.device.toml", "format = 1\n[device]\nnmae = 'x'\n")


class Counting:
    """An engine that says how often it was asked, and ends after `most`."""

    def __init__(self, most=99):
        self.most, self.asked = most, 0

    def each(self, function, given):
        for one in given:
            if self.asked == self.most:
                raise KeyboardInterrupt
            self.asked += 1
            yield function(one)


@pytest.fixture(scope="module")
def plain():
    return {
        job.file: figures(load(name), QUICK) for job, name in zip(TWO, ("tern-2", "heron-tab"), strict=True)
    }


def test_a_run_gives_the_figures_of_each_record_in_the_order_given(tmp_path, plain):
    made = run([TWO[1], BAD, TWO[0]], tmp_path, settings=QUICK, engine=Local(1))
    assert made[0] == Finished("b.device.toml", plain["b.device.toml"])
    assert made[2] == Finished("a.device.toml", plain["a.device.toml"])
    assert isinstance(made[1], Failed)
    assert any("nmae" in line for line in made[1].faults)


def test_a_run_that_was_broken_off_goes_on_where_it_was(tmp_path, plain):
    with pytest.raises(KeyboardInterrupt):
        run(TWO, tmp_path, settings=QUICK, engine=Counting(1))
    rest = Counting()
    made = run(TWO, tmp_path, settings=QUICK, engine=rest)
    assert rest.asked == 1
    assert [one.figures for one in made] == [plain["a.device.toml"], plain["b.device.toml"]]


def test_other_settings_or_another_text_are_computed_anew(tmp_path):
    run(TWO[:1], tmp_path, settings=QUICK, engine=Counting())
    for jobs, settings in [
        (TWO[:1], FigureSettings(limit=201, upkeep=False)),
        ([Job("a.device.toml", text("tern-2") + "\n# seen\n")], QUICK),
    ]:
        engine = Counting()
        run(jobs, tmp_path, settings=settings, engine=engine)
        assert engine.asked == 1


def test_a_torn_answer_is_computed_anew(tmp_path):
    run(TWO[:1], tmp_path, settings=QUICK, engine=Counting())
    (path,) = tmp_path.glob("*.json")
    path.write_bytes(path.read_bytes()[:-40])
    engine = Counting()
    assert isinstance(run(TWO[:1], tmp_path, settings=QUICK, engine=engine)[0], Finished)
    assert engine.asked == 1


def test_twins_are_computed_once_and_keep_their_own_names(tmp_path):
    engine, twins = Counting(), [Job("x.toml", TWO[0].text), Job("y.toml", TWO[0].text)]
    made = run(twins, tmp_path, settings=QUICK, engine=engine)
    assert engine.asked == 1
    assert [one.file for one in made] == ["x.toml", "y.toml"]


def test_progress_is_told_to_the_last_file(tmp_path):
    told = []
    run(TWO, tmp_path, settings=QUICK, engine=Local(1), told=lambda *what: told.append(what[:2]))
    assert told == [(1, 2), (2, 2)]


@pytest.mark.slow
def test_processes_of_their_own_give_the_same(tmp_path, plain):
    made = run(TWO, tmp_path, settings=QUICK, engine=Local(2))
    assert [one.figures for one in made] == list(plain.values())


@pytest.mark.slow
@pytest.mark.filterwarnings("ignore")  # the engine warns of its own shutdown order
def test_a_dask_cluster_of_two_worker_processes_gives_the_same(tmp_path, plain):
    distributed = pytest.importorskip("distributed")
    with distributed.LocalCluster(
        n_workers=2, threads_per_worker=1, processes=True, dashboard_address=None, host="127.0.0.1"
    ) as cluster:
        made = run([*TWO, BAD], tmp_path, settings=QUICK, engine=Cluster(cluster.scheduler_address))
    assert [one.figures for one in made[:2]] == list(plain.values())
    assert isinstance(made[2], Failed)


@pytest.mark.slow
def test_a_scheduler_that_does_not_answer_is_told(tmp_path):
    pytest.importorskip("distributed")
    with pytest.raises(BadSetting, match="no Dask scheduler answers"):
        run(TWO[:1], tmp_path, settings=QUICK, engine=Cluster("nonsense"))


def test_tables_hold_a_row_a_record_a_part_a_joint_a_fault(tmp_path):
    tables = join(run([*TWO, BAD], tmp_path / "kept", settings=QUICK, engine=Local(1)))
    records = [load("tern-2"), load("heron-tab")]
    assert len(tables["records"]) == 2
    assert len(tables["parts"]) == sum(len(record.parts) - 1 for record in records)
    assert len(tables["joints"]) == sum(len(record.joints) for record in records)
    assert {row["file"] for row in tables["faults"]} == {"bad.device.toml"}
    assert [path.name for path in write_csv(tables, tmp_path)] == [
        "records.csv", "parts.csv", "joints.csv", "faults.csv",
    ]  # fmt: skip


def test_parquet_holds_the_same_rows(tmp_path):
    parquet = pytest.importorskip("pyarrow.parquet")
    tables = join(run(TWO[:1], tmp_path / "kept", settings=QUICK, engine=Local(1)))
    for path in write_parquet(tables, tmp_path):
        assert parquet.read_table(path).to_pylist() == tables[path.stem]
