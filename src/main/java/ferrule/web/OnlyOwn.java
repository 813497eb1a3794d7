package ferrule.web;

import ferrule.people.Person;
import ferrule.people.Role;
import io.javalin.security.RouteRole;
import java.util.function.BiPredicate;

/**
 * Stands beside a route's {@link Access} and says of which things people in one role see only their own:
 *
 * <pre>{@code routes.get("/record/{id}", this::show, Access.SIGNED_IN,
 *     OnlyOwn.of(Role.APPRENTICE, "id", (reader, id) -> id.equals(reader.id().toString())));}</pre>
 *
 * <p>The gate asks before the handler runs. What is not theirs is to them as if it were not there. A route may carry
 * several.
 *
 * @param role whom it binds; the other roles that the route admits see everybody's
 * @param parameter the part of the path that names the thing
 * @param theirs whether what is named so belongs to a person; false for what is not there and for any text that names
 *     nothing
 */
public record OnlyOwn(Role role, String parameter, BiPredicate<Person, String> theirs) implements RouteRole {

  /** The same as the constructor, to be read beside a route. */
  public static OnlyOwn of(Role role, String parameter, BiPredicate<Person, String> theirs) {
    return new OnlyOwn(role, parameter, theirs);
  }

  /** That the path names the person themselves, by their id. */
  public static OnlyOwn self(Role role, String parameter) {
    return new OnlyOwn(role, parameter, (person, id) -> person.id().toString().equals(id));
  }

  /** Whether it lets a person open what this text names. */
  boolean admits(Person person, String text) {
    return person.role() != role || theirs.test(person, text);
  }
}
