package ferrule.web;

import io.javalin.config.RoutesConfig;
import java.util.List;

/** The pages of one feature. */
public interface Pages {

  /** Adds the feature's routes, each with its {@link Access}. */
  void routes(RoutesConfig routes);

  /** The feature's places in the menu. */
  default List<NavEntry> nav() {
    return List.of();
  }
}
