"""How a big file of requests is answered by many machines: the one call, mapped over numbered lines.

`answer_line` is a pure function of its arguments that can be pickled, so any engine with a map over a collection can
carry it. With Dask (https://docs.dask.org), where a cluster is set up and every machine has this package installed:

    import dask.bag
    requests = dask.bag.from_sequence(enumerate(open("orders.txt", encoding="utf-8"), 1), partition_size=5000)
    requests.map(one).to_textfiles("answers-*.jsonl")

and with Apache Spark (https://spark.apache.org/docs/latest/api/python/):

    numbered = spark.sparkContext.textFile("orders.txt").zipWithIndex()
    numbered.map(lambda pair: one((pair[1] + 1, pair[0]))).saveAsTextFile("answers")

Neither is needed by this package. A pool of processes has the same map, and is what runs here and in the tests:

    python tests/examples/spread_over_machines.py orders.txt > answers.jsonl
"""

from __future__ import annotations

import sys
from concurrent.futures import ProcessPoolExecutor

from assistant.batch import answer_line


def one(numbered: tuple[int, str]) -> str:
    """The record of one numbered line. Every process or machine loads the vocabulary once, at its first line."""
    number, request = numbered
    return answer_line(number, request.rstrip("\r\n"))


def main(name: str) -> None:
    with open(name, encoding="utf-8", errors="replace") as lines, ProcessPoolExecutor() as pool:
        for made in pool.map(one, enumerate(lines, 1), chunksize=64):
            print(made)


if __name__ == "__main__":
    main(sys.argv[1])
