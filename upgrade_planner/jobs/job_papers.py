"""What a shop writes down about one job, from its file and from single options."""

from pathlib import Path

from attrs import evolve

from upgrade_planner.kit.job_file import Customer, JobFile, read_job_file


def job_papers(
    path: Path | None, *, number: str = "", revision: str = "", customer: str = ""
) -> JobFile:
    """
    The job of a file, or an empty one, with what single options say in place of it.

    Raises:
        ConfigurationError: the file cannot be read or is faulty.
    """
    job = JobFile() if path is None else read_job_file(path)
    papers = job.job
    papers = evolve(papers, number=number or papers.number, revision=revision or papers.revision)
    named = job.customer
    if customer:
        named = Customer(name=customer) if named is None else evolve(named, name=customer)
    return evolve(job, job=papers, customer=named)
