package ferrule.bench;

import ferrule.ledger.Proofs;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import java.time.ZoneId;
import java.util.Optional;
import java.util.UUID;

/**
 * What the pages of the bench work with.
 *
 * @param tasks of the edition in use
 * @param proofs that records are in the log
 * @param zone the school's, in which times are shown and days end
 */
public record Bench(
    TaskBook tasks,
    BenchStore drafts,
    RecordStore records,
    PhotoStore photos,
    QueueStore queue,
    BlindStore blind,
    AuthorityStore authorities,
    PeopleStore people,
    Proofs proofs,
    ZoneId zone) {

  /** How times are shown. */
  Moments moments() {
    return new Moments(zone);
  }

  /** A person's name, or words for somebody who is not known. */
  String nameOf(UUID person) {
    return people.person(person).map(Person::fullName).orElse("somebody who is not known any more");
  }

  /** The apprentice with this id, if there is one who has not left. */
  Optional<Person> apprentice(String id) {
    try {
      return people.person(UUID.fromString(id)).filter(p -> p.role() == Role.APPRENTICE && p.isPresent());
    } catch (IllegalArgumentException e) {
      return Optional.empty();
    }
  }

  /** The task with this id as it came in a form, if there is one. */
  Optional<Task> task(String id) {
    return tasks.all().stream().filter(t -> t.id().value().equals(id)).findFirst();
  }

  /** Whether an instrument with this tag is on the bench. */
  boolean isOnBench(String tag) {
    return drafts.instruments().stream().anyMatch(i -> i.tag().equals(tag));
  }

  /** Why an instructor may not sign work of this task, in a sentence; empty if they may. */
  Optional<String> refusal(UUID instructor, Task task) {
    Authority authority = authorities.of(instructor);
    return authority.covers(task) ? Optional.empty() : Optional.of(authority.refusalOf(task));
  }
}
