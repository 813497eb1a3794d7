package ferrule.web;

import ferrule.people.Person;
import io.javalin.config.RoutesConfig;
import java.util.List;
import java.util.Optional;

/** The pages of one feature. */
public interface Pages {

  /** Adds the feature's routes, each with its {@link Access}. */
  void routes(RoutesConfig routes);

  /** The feature's places in the menu. */
  default List<NavEntry> nav() {
    return List.of();
  }

  /** Where this person starts, if this feature has something for them that comes before the first place of their menu. */
  default Optional<String> home(Person person) {
    return Optional.empty();
  }
}
