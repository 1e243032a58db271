#include "shedbook/io/user_folder.h"

#include <catch2/catch.hpp>
#include <cstdlib>
#include <string>

namespace shedbook {
namespace {

// As it was, when the test is over.
class Variable {
  public:
    Variable(const char* name, const char* value) : name_{name} {
        if (const char* before = std::getenv(name)) before_ = before;
        setenv(name, value, 1);
    }
    ~Variable() { setenv(name_, before_.c_str(), 1); }
    Variable(const Variable&) = delete;
    Variable& operator=(const Variable&) = delete;

  private:
    const char* name_;
    std::string before_;
};

}  // namespace

// XDG Base Directory Specification 0.8: the variable, if it is a whole path; else the usual place below HOME.
TEST_CASE("folders of the user's are where the desktop's specification has them", "[io]") {
    const Variable home{"HOME", "/home/ada"};
    {
        const Variable cache{"XDG_CACHE_HOME", "/fast"};
        CHECK(user_folder(UserFolder::Cache) == "/fast/shedbook");
    }
    const Variable cache{"XDG_CACHE_HOME", "not/whole"};
    const Variable state{"XDG_STATE_HOME", ""};
    CHECK(user_folder(UserFolder::Cache) == "/home/ada/.cache/shedbook");
    CHECK(user_folder(UserFolder::State) == "/home/ada/.local/state/shedbook");
    const Variable nowhere{"HOME", ""};
    CHECK(user_folder(UserFolder::State).empty());
}

}  // namespace shedbook
