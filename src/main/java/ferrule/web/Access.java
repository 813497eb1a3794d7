package ferrule.web;

import ferrule.people.Role;
import io.javalin.security.RouteRole;

/** Who may open a route. Every route names at least one; a route that names none is refused to all. */
public enum Access implements RouteRole {
  /** Anyone, signed in or not. */
  ANYONE,
  /** Anyone who is signed in. */
  SIGNED_IN,
  /** Apprentices. */
  APPRENTICE,
  /** Instructors. */
  INSTRUCTOR,
  /** Coordinators. */
  COORDINATOR;

  /** Whether a person in this role is let in. */
  public boolean admits(Role role) {
    return this == ANYONE || this == SIGNED_IN || name().equals(role.name());
  }
}
